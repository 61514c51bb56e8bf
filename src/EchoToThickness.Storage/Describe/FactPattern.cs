using System.Text.RegularExpressions;
using EchoToThickness.Units;

namespace EchoToThickness.Storage.Describe;

/// <summary>By which names exports call a fact of the whole stack, and between which values it lies.</summary>
/// <param name="Section">Section of the layout map.</param>
/// <param name="Key">Key of the layout map.</param>
/// <param name="Pattern">Pattern over the normalised name.</param>
/// <param name="Dimension">Dimension; null for a plain number.</param>
/// <param name="Low">Smallest plausible value, SI.</param>
/// <param name="High">Largest plausible value, SI.</param>
/// <param name="Example">What to write when it is missing.</param>
/// <param name="Purpose">What it is needed for.</param>
internal sealed record FactPattern(
    string Section,
    string Key,
    Regex Pattern,
    Dimension? Dimension,
    double Low,
    double High,
    string Example,
    string Purpose
)
{
    /// <summary>Scalar facts; earlier ones take a name first.</summary>
    public static IReadOnlyList<FactPattern> All { get; } =
    [
        Of(
            "time",
            "sample_rate",
            "sampl\\w*_?(rate|freq)|sampling_[mkg]?hz|sampling$|^fs(_|$)|adc_rate|digiti[sz]\\w*_(rate|freq)",
            Units.Dimension.Frequency,
            1e6,
            5e9,
            "100 MHz",
            "the time base"
        ),
        Of(
            "time",
            "interval",
            "^dt(_|$)|sampl\\w*_(interval|period|time|step)|time_step|delta_t",
            Units.Dimension.Time,
            2e-10,
            1e-6,
            "10 ns",
            "the time base"
        ),
        Of(
            "time",
            "start",
            "^t_?0(_|$)|^t_start|start_?(time|us|ns|s$)|^start$|time_start|delay|time_origin|time_offset",
            Units.Dimension.Time,
            0,
            1e-2,
            "0 us",
            "times from the pulse"
        ),
        Of(
            "acquisition",
            "couplant_velocity",
            "(couplant|water|pad|wedge)\\w*(vel|speed)|(vel|speed)\\w*_(couplant|water|pad|wedge)",
            Units.Dimension.Velocity,
            300,
            4000,
            "1480 m/s",
            "couplant-layer echoes"
        ),
        Of(
            "acquisition",
            "shear_velocity",
            "(shear|transv\\w*)\\w*(vel|speed)|(vel|speed)\\w*_(shear|transv)|^(vs|ct|cs)(_|$)",
            Units.Dimension.Velocity,
            500,
            8000,
            "3230 m/s",
            "mode-converted echoes"
        ),
        Of(
            "acquisition",
            "velocity",
            "vel|sound_speed|speed_of_sound|^(vl|cl|c)(_m|$)",
            Units.Dimension.Velocity,
            1000,
            15000,
            "5920 m/s",
            "thickness, unless the procedure gives it"
        ),
        Of(
            "acquisition",
            "bandwidth",
            "bandwidth",
            Units.Dimension.Fraction,
            0.05,
            2,
            "60 %",
            "filters and uncertainty"
        ),
        Of(
            "acquisition",
            "frequency",
            "(cent(er|re)|probe|transducer|pulse|nominal)?_?freq|^f0(_|$)|^fc(_|$)|^probe(_mhz)?$",
            Units.Dimension.Frequency,
            1e5,
            1e8,
            "5 MHz",
            "filters and checks"
        ),
        Of("acquisition", "aperture", "aperture", Units.Dimension.Length, 5e-4, 0.2, "8 mm", "footprint"),
        Of("acquisition", "pitch", "pitch", Units.Dimension.Length, 5e-5, 1e-2, "1 mm", "geometry of the array"),
        Of(
            "acquisition",
            "elements",
            "(n|num|number)_?(of_)?elements|^elements$|element_count",
            null,
            1,
            4096,
            "64",
            "geometry of the array"
        ),
        Of(
            "acquisition",
            "gain",
            "^gain|_gain(_db)?$|amplification",
            Units.Dimension.Decibel,
            0,
            140,
            "40 dB",
            "comparing lines"
        ),
        Of("acquisition", "averages", "averag", null, 1, 100000, "1", "noise"),
        Of(
            "acquisition",
            "temperature",
            "temperature|^temp(_|$)",
            Units.Dimension.Temperature,
            0,
            600,
            "20 degC",
            "temperature correction"
        ),
        Of(
            "component",
            "nominal_wall",
            "nominal_?(wall|thick)|wall_nominal",
            Units.Dimension.Length,
            5e-4,
            0.5,
            "8.6 mm",
            "checks of the time base"
        ),
        Of(
            "component",
            "outside_diameter",
            "(outside|outer)_?dia|^od(_|$)",
            Units.Dimension.Length,
            5e-3,
            5,
            "114.3 mm",
            "curvature correction"
        ),
    ];

    /// <summary>Whether a value lies where the fact lies.</summary>
    public bool Plausible(double si) => double.IsFinite(si) && Math.Abs(si) >= Low && Math.Abs(si) <= High;

    private static FactPattern Of(
        string section,
        string key,
        string pattern,
        Dimension? dimension,
        double low,
        double high,
        string example,
        string purpose
    ) => new(section, key, new Regex(pattern, RegexOptions.CultureInvariant), dimension, low, high, example, purpose);
}
