using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>
/// A level as a multiple of its reference. Text forms: <c>"30 % of full scale"</c>, <c>"-12 dB of strongest"</c>,
/// <c>"5 x noise"</c>, <c>"-20 dB of followed"</c>.
/// </summary>
/// <param name="Ratio">Positive multiple of the reference (0.3 for 30 %, 0.2512 for -12 dB, 5 for five times).</param>
/// <param name="Reference">What the ratio multiplies.</param>
public readonly record struct LevelRule(double Ratio, LevelReference Reference) : ITextValue<LevelRule>
{
    private const string Remedy =
        "write a level such as \"30 % of full scale\", \"-12 dB of strongest\", \"5 x noise\" or \"-20 dB of followed\".";

    private static readonly (LevelReference Reference, string Word)[] Words =
    [
        (LevelReference.FullScale, "full scale"),
        (LevelReference.Strongest, "strongest"),
        (LevelReference.Followed, "followed"),
    ];

    /// <inheritdoc/>
    public static string TextForm =>
        "level: `\"30 % of full scale\"`, `\"-12 dB of strongest\"`, `\"5 x noise\"`, `\"-20 dB of followed\"`";

    /// <summary>Reads a level.</summary>
    /// <param name="text">One of the text forms.</param>
    /// <exception cref="UnitException">Not a level; the message shows the four forms.</exception>
    public static LevelRule ParseText(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        string trimmed = text.Trim(' ');
        if (trimmed.EndsWith(" noise", StringComparison.Ordinal))
            return new LevelRule(
                Positive(Multiple(text, trimmed[..^" noise".Length].TrimEnd(' ')), text),
                LevelReference.Noise
            );
        int of = trimmed.IndexOf(" of ", StringComparison.Ordinal);
        if (of < 0)
            throw new UnitException($"'{text}' does not say what the level is measured against.", Remedy);
        string word = trimmed[(of + 4)..].Trim(' ');
        string amount = trimmed[..of];
        foreach ((LevelReference reference, string known) in Words)
        {
            if (word != known)
                continue;
            double ratio =
                UnitText.DimensionOf(amount) == Dimension.Decibel
                    ? FromDecibels(UnitText.Parse(amount, Dimension.Decibel))
                    : UnitText.Parse(amount, Dimension.Fraction);
            return new LevelRule(Positive(ratio, text), reference);
        }
        throw new UnitException($"'{text}' has the unknown reference '{word}'.", Remedy);
    }

    /// <summary>Prints the level so that <see cref="ParseText"/> gives back an equal one.</summary>
    public string ToText()
    {
        if (Reference == LevelReference.Noise)
            return DecimalText.Print(Ratio, 0) + " x noise";
        LevelReference reference = Reference;
        string word = Array.Find(Words, row => row.Reference == reference).Word;
        return Amount() + " of " + word;
    }

    /// <inheritdoc/>
    public override string ToString() => Ratio > 0 ? ToText() : "no level";

    /// <summary>Decibels of amplitude to a ratio, <c>10^(dB/20)</c>.</summary>
    /// <param name="decibels">Decibels.</param>
    public static double FromDecibels(double decibels) => Math.Pow(10, decibels / 20);

    private string Amount()
    {
        // Decibels where a round number of them reads back to the very same ratio, else percent, which is an exact decimal shift.
        double decibels = Math.Round(20 * Math.Log10(Ratio), 6);
        bool exact = FromDecibels(decibels) == Ratio;
        bool percentIsShort = Math.Abs(Ratio * 100 - Math.Round(Ratio * 100, 3)) < 1e-12;
        return exact && !percentIsShort
            ? UnitText.Format(decibels, Dimension.Decibel)
            : UnitText.Format(Ratio, Dimension.Fraction);
    }

    private static double Multiple(string text, string amount)
    {
        string number = amount.TrimEnd('x', '\u00D7').TrimEnd(' ');
        bool hasTimes = amount.Length > 0 && amount[^1] is 'x' or '\u00D7';
        if (
            !hasTimes
            || number.Length == 0
            || DecimalText.NumberLength(number) != number.Length
            || !DecimalText.TryScale(number, 0, out double value)
        )
            throw new UnitException($"'{text}' is not a multiple of the noise.", "write it as \"5 x noise\".");
        return value;
    }

    private static double Positive(double ratio, string text) =>
        ratio > 0 && double.IsFinite(ratio)
            ? ratio
            : throw new UnitException($"'{text}' is not a level above zero.", Remedy);
}
