using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Native;

/// <summary>Names and words of the stack layout; docs/stack-format.md says the same in sentences.</summary>
internal static class StackLayout
{
    public const string Format = "echo-to-thickness stack";
    public const int Major = 1;
    public const int Minor = 0;
    public const string Lines = "lines";
    public const string AScans = "ascans";
    public const string Truth = "truth";
    public const string TruthLabels = "truth_labels";
    public const string Present = "present";
    public const string ScanPosition = "scan_position";
    public const string IndexPosition = "index_position";
    public const string BeamStartTime = "beam_start_time";

    public static readonly string[] TruthLayers =
    [
        "thickness",
        "minimum_thickness",
        "mean_thickness",
        "reflector_depth",
        "couplant_path",
        "coating_thickness",
    ];

    public static readonly string[] LabelLayers = ["planted"];

    public static readonly (string Word, SignalForm Value)[] Forms =
    [
        ("radio_frequency", SignalForm.RadioFrequency),
        ("rectified", SignalForm.Rectified),
    ];

    public static readonly (string Word, ComponentKind Value)[] Kinds =
    [
        ("plate", ComponentKind.Plate),
        ("pipe", ComponentKind.Pipe),
        ("elbow", ComponentKind.Elbow),
    ];

    public static readonly (string Word, NeighbourAxes Value)[] Neighbours =
    [
        ("none", NeighbourAxes.None),
        ("scan", NeighbourAxes.Scan),
        ("beam", NeighbourAxes.Beam),
        ("both", NeighbourAxes.Both),
    ];

    public static readonly (string Word, LineDirection Value)[] Directions =
    [
        ("along", LineDirection.Along),
        ("around", LineDirection.Around),
    ];

    public static readonly (string Word, LineOrigin Value)[] Origins =
    [
        ("component_start", LineOrigin.ComponentStart),
        ("mid_bend", LineOrigin.MidBend),
        ("datum", LineOrigin.Datum),
    ];

    public static readonly (string Word, EncoderTrack Value)[] Tracks =
    [
        ("line", EncoderTrack.Line),
        ("centre_line", EncoderTrack.CentreLine),
    ];

    public static string WordOf<T>((string Word, T Value)[] words, T value)
        where T : struct, Enum => Array.Find(words, w => EqualityComparer<T>.Default.Equals(w.Value, value)).Word;
}
