using EchoToThickness.Pairing;
using ScottPlot;

namespace EchoToThickness.Reporting.Figures;

/// <summary>Colours of the figures. Hues come in pairs that stay apart for red-green colour-blind readers; nothing is told by hue alone.</summary>
internal static class Ink
{
    public static Color Paper => Color.FromHex("#ffffff");
    public static Color Text => Color.FromHex("#20242c");
    public static Color Quiet => Color.FromHex("#6a7280");
    public static Color Rule => Color.FromHex("#e3e6ea");
    public static Color Raw => Color.FromHex("#b4bcc8");
    public static Color Envelope => Color.FromHex("#c06a15");
    public static Color Interface => Color.FromHex("#1565a8");
    public static Color Pair => Color.FromHex("#a3195b");
    public static Color RunnerUp => Color.FromHex("#7b6a00");
    public static Color Limit => Color.FromHex("#111111");

    private static readonly string[] GateColours = ["#00736b", "#6a3fa0", "#8a4b08", "#35506e"];

    public static Color Gate(int number) => Color.FromHex(GateColours[number % GateColours.Length]);

    /// <summary>The colour of a cell that is not simply measured; none lies on the thickness scale.</summary>
    public static Color Status(CellStatus status) =>
        Color.FromHex(
            status switch
            {
                CellStatus.NoInterfaceEcho => "#d3d7dc",
                CellStatus.NoBackWallEcho => "#9aa1ab",
                CellStatus.AmbiguousPairing => "#8fce9a",
                CellStatus.LaminarReflector => "#0f8f6a",
                CellStatus.Saturated => "#101010",
                CellStatus.LowSignalToNoise => "#61676f",
                CellStatus.OutsideRange => "#c4e3b5",
                CellStatus.InvalidSamples => "#3c3c3c",
                _ => "#ffffff",
            }
        );

    /// <summary>The status in plain words.</summary>
    public static string Words(CellStatus status) =>
        status switch
        {
            CellStatus.Measured => "measured",
            CellStatus.NoInterfaceEcho => "no interface echo",
            CellStatus.NoBackWallEcho => "no back-wall echo",
            CellStatus.AmbiguousPairing => "ambiguous pairing",
            CellStatus.LaminarReflector => "laminar reflector",
            CellStatus.Saturated => "saturated",
            CellStatus.LowSignalToNoise => "low signal to noise",
            CellStatus.NotScanned => "not scanned",
            CellStatus.OutsideRange => "outside range",
            CellStatus.InvalidSamples => "invalid samples",
            _ => "unknown",
        };
}
