using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Grids;

/// <summary>Names, types and fill values of the grid file; docs/grid-format.md says the same in sentences.</summary>
internal static class GridFormat
{
    public const string Format = "echo-to-thickness grid";
    public const int Major = 1;
    public const int Minor = 0;
    public const string ScanPosition = "scan_position";
    public const string IndexPosition = "index_position";

    public static readonly (string Name, byte Value)[] StatusMembers =
    [
        .. Enum.GetValues<CellStatus>().Select(s => (s.ToString(), (byte)s)),
    ];

    public static readonly (string Name, ushort Value)[] NoteMembers =
    [
        .. Enum.GetValues<CellNotes>().Where(n => n != CellNotes.None).Select(n => (n.ToString(), (ushort)n)),
    ];

    public static StoredType TypeOf(GridLayer layer) =>
        layer == GridLayer.Status
            ? StoredType.Enumeration(StatusMembers)
            : GridLayers.TypeOf(layer) switch
            {
                GridLayerType.Float32 => StoredType.Float32,
                GridLayerType.UInt16 => StoredType.UInt16,
                _ => StoredType.UInt8,
            };

    public static int SizeOf(GridLayer layer) =>
        GridLayers.TypeOf(layer) switch
        {
            GridLayerType.Float32 => 4,
            GridLayerType.UInt16 => 2,
            _ => 1,
        };

    /// <summary>One element of a cell that was never written: NaN, no pair, not scanned.</summary>
    public static byte[] FillOf(GridLayer layer) =>
        layer switch
        {
            GridLayer.Status => [(byte)CellStatus.NotScanned],
            GridLayer.PairedOrders => [CellResult.NoPair],
            GridLayer.EchoCount => [0],
            GridLayer.Notes => [0, 0],
            _ => BitConverter.GetBytes(float.NaN),
        };

    public static string Words(IEnumerable<string> names) => string.Join(' ', names);
}
