using System.Globalization;
using System.Text.RegularExpressions;
using EchoToThickness.Procedures;
using EchoToThickness.Studies.Searching;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Tune;

/// <summary>One thing that is varied: an axis of the space, and what its places write into the procedure.</summary>
public sealed partial class VaryAxis
{
    private const int UsualGridSteps = 5;
    private readonly double _from;
    private readonly double _to;
    private readonly bool _logarithmic;
    private readonly string _suffix = "";
    private readonly int _decimals;
    private readonly IReadOnlyList<string> _texts = [];
    private readonly IReadOnlyList<IReadOnlyList<TomlOverride>> _options = [];
    private readonly string _place;

    /// <summary>Makes an axis of one section.</summary>
    /// <param name="settings">The section.</param>
    /// <param name="entry">Its key in the study, for messages.</param>
    /// <param name="placeOf">Place of a key of the study.</param>
    /// <param name="grid">Whether a range without steps gets the usual number.</param>
    /// <exception cref="ProcedureException">Range, list and options are not one of the three, or cannot be read.</exception>
    internal VaryAxis(VarySettings settings, string entry, Func<string, string> placeOf, bool grid)
    {
        Settings = settings;
        Entry = entry;
        Name =
            settings.Name.Length > 0 ? settings.Name
            : settings.Key.Length > 0 ? settings.Key
            : "options of " + entry;
        ProcedureException Fault(string key, string what, string remedy) =>
            new([new ProcedureFinding(entry + key, what, remedy) { Place = placeOf(entry + key) }]);

        bool range = settings.From is not null || settings.To is not null;
        int kinds = (range ? 1 : 0) + (settings.Values.Count > 0 ? 1 : 0) + (settings.Options.Count > 0 ? 1 : 0);
        if (kinds != 1)
            throw Fault(
                "",
                kinds == 0
                    ? "Nothing is said about what the key becomes."
                    : "A range, a list and options exclude each other.",
                "write 'from' and 'to', or 'values', or 'options'."
            );
        bool options = settings.Options.Count > 0;
        if (options != (settings.Key.Length == 0))
            throw Fault(
                options ? ".key" : "",
                options ? "The options name their keys themselves." : "No key is named.",
                options ? "leave 'key' out." : "write key = \"gate[1].start\"."
            );
        _place = placeOf(
            entry
                + (
                    range ? ".from"
                    : options ? ".options"
                    : ".values"
                )
        );
        if (!range)
        {
            if (settings.Steps is not null)
                throw Fault(".steps", "Only a range has steps.", "leave 'steps' out.");
            _texts = options ? settings.Options : settings.Values;
            if (_texts.Distinct().Count() < _texts.Count)
                throw Fault(options ? ".options" : ".values", "A value stands there twice.", "write each once.");
            if (_texts.Count < 2)
                throw Fault(options ? ".options" : ".values", "One value varies nothing.", "write at least two.");
            _options =
            [
                .. _texts.Select(text =>
                    options
                        ? MethodReader.Changes(
                            Labelled(text)
                                .Changes.Split(
                                    ';',
                                    StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries
                                ),
                            entry + ".options",
                            _place
                        )
                        : (IReadOnlyList<TomlOverride>)[new TomlOverride(settings.Key, text, _place)]
                ),
            ];
            if (options)
                _texts = [.. _texts.Select(t => Labelled(t).Label)];
            if (_texts.Distinct().Count() < _texts.Count)
                throw Fault(".options", "Two options have the same name.", "give each a name of its own.");
            // Numbers that ascend in one unit have an order, which the surrogate may use and small changes follow.
            Ordered =
                !options
                && _texts.All(t => Split(t) is not null)
                && _texts.Select(t => Split(t)!.Value.Suffix).Distinct().Count() == 1
                && _texts.Zip(_texts.Skip(1)).All(p => Split(p.First)!.Value.Number < Split(p.Second)!.Value.Number);
            Axis = Ordered ? new SearchAxis(Name, Levels: _texts.Count) : new SearchAxis(Name, Words: _texts.Count);
            return;
        }
        if (settings.From is null || settings.To is null)
            throw Fault("", "A range needs two ends.", "write both 'from' and 'to'.");
        if (Split(settings.From) is not { } low || Split(settings.To) is not { } high)
            throw Fault(
                Split(settings.From) is null ? ".from" : ".to",
                $"'{(Split(settings.From) is null ? settings.From : settings.To)}' does not begin with a number.",
                "write a range of numbers, or a list with 'values'."
            );
        if (low.Suffix != high.Suffix)
            throw Fault(
                ".to",
                $"The ends are in different units ('{low.Suffix}' and '{high.Suffix}').",
                $"write both with '{low.Suffix}'."
            );
        if (!(low.Number < high.Number))
            throw Fault(".to", $"{settings.To} is not above {settings.From}.", "write the low end first.");
        _logarithmic = settings.Scale == VaryScale.Logarithmic;
        if (_logarithmic && low.Number <= 0)
            throw Fault(
                ".scale",
                $"{settings.From} has no logarithm.",
                "write scale = \"linear\", or a low end above zero."
            );
        (_from, _to, _suffix) = (low.Number, high.Number, low.Suffix);
        Ordered = true;
        IsWhole = IsWholeKey(settings.Key);
        int steps = settings.Steps ?? (grid ? UsualGridSteps : 0);
        // A thousandth of the range can be told apart; of a range of ratios a thousandth of the value.
        _decimals = IsWhole ? 0 : Math.Max(0, 3 - (int)Math.Floor(Math.Log10(_to - _from)));
        Axis = new SearchAxis(Name, Levels: steps);
    }

    /// <summary>The section.</summary>
    public VarySettings Settings { get; }

    /// <summary>Its key in the study.</summary>
    public string Entry { get; }

    /// <summary>Name in tables.</summary>
    public string Name { get; }

    /// <summary>The axis.</summary>
    public SearchAxis Axis { get; }

    /// <summary>Whether its places have an order, so that small changes of it make sense.</summary>
    public bool Ordered { get; }

    private bool IsWhole { get; }

    /// <summary>What a place writes into the procedure, for tables.</summary>
    /// <param name="place">A place on the axis.</param>
    public string TextAt(double place)
    {
        if (_texts.Count > 0)
            return _texts[NumberOf(place)];
        double value = _logarithmic ? _from * Math.Pow(_to / _from, place) : _from + (_to - _from) * place;
        int decimals = _decimals;
        if (_logarithmic && !IsWhole)
            decimals = Math.Clamp(2 - (int)Math.Floor(Math.Log10(value)), 0, 12);
        string number = Math.Round(value, Math.Min(decimals, 15))
            .ToString("0.###############", CultureInfo.InvariantCulture);
        return number + _suffix;
    }

    /// <summary>What a place changes in the procedure.</summary>
    /// <param name="place">A place on the axis.</param>
    public IReadOnlyList<TomlOverride> ChangesAt(double place) =>
        _texts.Count > 0 ? _options[NumberOf(place)] : [new TomlOverride(Settings.Key, TextAt(place), _place)];

    /// <summary>The number that stands for a place in figures: the value itself, or its number in the list.</summary>
    /// <param name="place">A place on the axis.</param>
    public double NumberAt(double place) =>
        Split(TextAt(place)) is { } split && Ordered ? split.Number : NumberOf(place);

    /// <summary>Unit of <see cref="NumberAt"/>, with what follows it.</summary>
    public string Unit => Ordered ? (_texts.Count > 0 ? Split(_texts[0])!.Value.Suffix : _suffix).Trim() : "";

    /// <summary>Places whose text alone says whether a value can be read: all of a list, the ends of a range.</summary>
    public IEnumerable<double> PlacesToCheck() =>
        _texts.Count > 0 ? Enumerable.Range(0, _texts.Count).Select(Axis.LevelAt) : [0.0, 1.0];

    /// <summary>Whether a place is an end of a range, beyond which better ones may lie.</summary>
    /// <param name="place">A place on the axis.</param>
    public bool IsEnd(double place) => _texts.Count == 0 && (place <= 0 || place >= 1);

    /// <summary>"rf: conditioning.signal = rf" as name and changes; without a name the changes stand for it.</summary>
    private static (string Label, string Changes) Labelled(string text)
    {
        int colon = text.IndexOf(':', StringComparison.Ordinal);
        int equals = text.IndexOf('=', StringComparison.Ordinal);
        if (colon > 0 && (equals < 0 || colon < equals))
            return (text[..colon].Trim(), text[(colon + 1)..]);
        return (text.Trim().Length == 0 ? "as in the base" : text.Trim(), text);
    }

    private int NumberOf(double place) => Axis.IsChoice ? (int)place : (int)Math.Round(place * (_texts.Count - 1));

    private static (double Number, string Suffix)? Split(string text)
    {
        Match match = Leading().Match(text);
        return
            match.Success
            && double.TryParse(
                match.Groups[1].Value,
                NumberStyles.Float,
                CultureInfo.InvariantCulture,
                out double number
            )
            ? (number, match.Groups[2].Value.TrimEnd())
            : null;
    }

    private static bool IsWholeKey(string key)
    {
        Type type = typeof(Procedure);
        foreach (string part in key.Split('.'))
        {
            if (KeyDescription.Of(type).FirstOrDefault(k => k.Key == part.Split('[')[0]) is not { } known)
                return false;
            type = known.ValueType;
            if (!known.IsSection)
                break;
        }
        return type == typeof(int) || type == typeof(long);
    }

    [GeneratedRegex(@"^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)(\s*.*)$")]
    private static partial Regex Leading();
}
