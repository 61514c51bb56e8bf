using System.Globalization;

namespace EchoToThickness.Statistics;

/// <summary>Where the cells of a map lie: an axis along the component and one around it (or across a plate).</summary>
/// <remarks>
/// A cell has the index <c>along * AroundCount + around</c>. On a bend the length of a cell along the component depends on its place
/// around the section; <see cref="AlongScale"/> holds that factor, 1 at the line on which <see cref="AlongMetres"/> is measured.
/// </remarks>
public sealed class MapAxes
{
    private readonly double[] _along;
    private readonly double[] _around;
    private readonly double[] _scale;

    /// <summary>Checks and keeps the axes.</summary>
    /// <param name="alongMetres">Shape [along]: centres of the cells along the reference line, ascending, evenly spaced to 1 %.</param>
    /// <param name="aroundMetres">Shape [around]: centres of the cells around the section, ascending, evenly spaced to 1 %.</param>
    /// <param name="wrapsAround">True when the last cell around is a neighbour of the first.</param>
    /// <param name="alongScale">Shape [around]: length along at this place over the length at the reference line; null for 1.</param>
    /// <param name="alongPitchMetres">Spacing along, needed only where there is a single cell along.</param>
    /// <param name="aroundPitchMetres">Spacing around, needed only where there is a single cell around.</param>
    /// <exception cref="StatisticsException">An axis is empty, not ascending or not even, or a factor is not above zero.</exception>
    public MapAxes(
        ReadOnlySpan<double> alongMetres,
        ReadOnlySpan<double> aroundMetres,
        bool wrapsAround = false,
        ReadOnlySpan<double> alongScale = default,
        double alongPitchMetres = double.NaN,
        double aroundPitchMetres = double.NaN
    )
    {
        _along = alongMetres.ToArray();
        _around = aroundMetres.ToArray();
        AlongPitchMetres = Pitch(_along, alongPitchMetres, "along");
        AroundPitchMetres = Pitch(_around, aroundPitchMetres, "around");
        WrapsAround = wrapsAround;
        _scale = new double[_around.Length];
        Array.Fill(_scale, 1);
        if (!alongScale.IsEmpty)
        {
            if (alongScale.Length != _around.Length)
                throw new StatisticsException(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{alongScale.Length} factors for {_around.Length} places around."
                    ),
                    "alongScale",
                    "give one factor for each place around"
                );
            for (int k = 0; k < _scale.Length; k++)
                _scale[k] =
                    alongScale[k] > 0 && double.IsFinite(alongScale[k])
                        ? alongScale[k]
                        : throw new StatisticsException(
                            string.Create(
                                CultureInfo.InvariantCulture,
                                $"The length factor {alongScale[k]} is not above zero."
                            ),
                            string.Create(CultureInfo.InvariantCulture, $"alongScale[{k}]"),
                            "a bend radius must exceed the radius of the section"
                        );
        }
    }

    /// <summary>Axes that start half a pitch after zero.</summary>
    /// <param name="alongCount">Cells along.</param>
    /// <param name="aroundCount">Cells around.</param>
    /// <param name="alongPitchMetres">Spacing along.</param>
    /// <param name="aroundPitchMetres">Spacing around.</param>
    /// <param name="wrapsAround">True when the last cell around is a neighbour of the first.</param>
    public static MapAxes Even(
        int alongCount,
        int aroundCount,
        double alongPitchMetres,
        double aroundPitchMetres,
        bool wrapsAround = false
    )
    {
        double[] along = Enumerable.Range(0, alongCount).Select(k => (k + 0.5) * alongPitchMetres).ToArray();
        double[] around = Enumerable.Range(0, aroundCount).Select(k => (k + 0.5) * aroundPitchMetres).ToArray();
        return new MapAxes(along, around, wrapsAround, default, alongPitchMetres, aroundPitchMetres);
    }

    /// <summary>Shape [along]: centres of the cells along the reference line, in metres.</summary>
    public ReadOnlySpan<double> AlongMetres => _along;

    /// <summary>Shape [around]: centres of the cells around the section, in metres.</summary>
    public ReadOnlySpan<double> AroundMetres => _around;

    /// <summary>Shape [around]: true length along over the length at the reference line.</summary>
    public ReadOnlySpan<double> AlongScale => _scale;

    /// <summary>Cells along.</summary>
    public int AlongCount => _along.Length;

    /// <summary>Cells around.</summary>
    public int AroundCount => _around.Length;

    /// <summary>Spacing along the reference line.</summary>
    public double AlongPitchMetres { get; }

    /// <summary>Spacing around.</summary>
    public double AroundPitchMetres { get; }

    /// <summary>Whether the last cell around is a neighbour of the first.</summary>
    public bool WrapsAround { get; }

    /// <summary>Length of the closed girth: cells around times their pitch.</summary>
    public double GirthMetres => AroundCount * AroundPitchMetres;

    private static double Pitch(double[] positions, double given, string name)
    {
        if (positions.Length == 0)
            throw new StatisticsException("An axis without cells.", name, "give at least one position");
        if (positions.Length == 1)
            return given > 0
                ? given
                : throw new StatisticsException(
                    "A single cell has no spacing.",
                    name,
                    "give the pitch of this axis in metres"
                );
        double pitch = (positions[^1] - positions[0]) / (positions.Length - 1);
        for (int k = 1; k < positions.Length; k++)
        {
            double step = positions[k] - positions[k - 1];
            // 1 %: more would give areas and neighbour distances that are wrong by as much.
            if (!(pitch > 0) || !(Math.Abs(step - pitch) <= 0.01 * pitch))
                throw new StatisticsException(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"The step of {step} m differs from the mean pitch of {pitch} m by more than 1 %."
                    ),
                    string.Create(CultureInfo.InvariantCulture, $"{name}, cell {k}"),
                    "resample the map to an even pitch in ascending order"
                );
        }
        return pitch;
    }
}
