namespace EchoToThickness.Grids;

/// <summary>Names, stored types and units of the layers.</summary>
public static class GridLayers
{
    private static readonly (string Name, GridLayerType Type, string Unit, string Description)[] Table =
    [
        ("thickness", GridLayerType.Float32, "m", "wall thickness; NaN where not measured"),
        (
            "uncertainty",
            GridLayerType.Float32,
            "m",
            "combined standard uncertainty (k = 1), given that the echo is the right one"
        ),
        (
            "uncertainty_noise",
            GridLayerType.Float32,
            "m",
            "standard uncertainty from pick noise; independent from cell to cell"
        ),
        (
            "uncertainty_calibration",
            GridLayerType.Float32,
            "m",
            "standard uncertainty from velocity, zero and temperature; common to the map"
        ),
        ("interface_time", GridLayerType.Float32, "s", "interface echo, from the pulse"),
        ("first_echo_time", GridLayerType.Float32, "s", "back-wall echo 1, from the pulse"),
        ("second_echo_time", GridLayerType.Float32, "s", "back-wall echo 2, from the pulse"),
        ("interface_amplitude", GridLayerType.Float32, "1", "interface echo, fraction of full scale"),
        ("first_echo_amplitude", GridLayerType.Float32, "1", "back-wall echo 1, fraction of full scale"),
        ("second_echo_amplitude", GridLayerType.Float32, "1", "back-wall echo 2, fraction of full scale"),
        ("thickness_interface_wall", GridLayerType.Float32, "m", "wall from interface to back-wall echo 1"),
        ("thickness_wall_wall", GridLayerType.Float32, "m", "wall from back-wall echo 1 to 2"),
        ("reflector_depth", GridLayerType.Float32, "m", "depth of a laminar reflector; NaN where none"),
        ("snr", GridLayerType.Float32, "dB", "peak-to-noise ratio of the weakest echo the wall rests on"),
        ("margin", GridLayerType.Float32, "1", "distance to the runner-up hypothesis: 0 a tie, 1 no rival"),
        ("runner_up_thickness", GridLayerType.Float32, "m", "wall of the runner-up hypothesis; NaN where none"),
        (
            "wrong_echo_probability",
            GridLayerType.Float32,
            "1",
            "probability that the echo is the wrong one; not part of the uncertainty"
        ),
        (
            "paired_orders",
            GridLayerType.UInt8,
            "1",
            "orders of the paired echoes: first + 16 * second; 0 interface, 15 none"
        ),
        ("echo_count", GridLayerType.UInt8, "1", "back-wall echoes that support the wall"),
        ("notes", GridLayerType.UInt16, "1", "bits for the reviewer"),
        ("status", GridLayerType.UInt8, "1", "what became of the cell"),
    ];

    /// <summary>All layers in file order.</summary>
    public static IReadOnlyList<GridLayer> All { get; } = Enum.GetValues<GridLayer>();

    /// <summary>Dataset name.</summary>
    /// <param name="layer">A layer.</param>
    public static string NameOf(GridLayer layer) => Table[(int)layer].Name;

    /// <summary>Stored type.</summary>
    /// <param name="layer">A layer.</param>
    public static GridLayerType TypeOf(GridLayer layer) => Table[(int)layer].Type;

    /// <summary>Unit, as written to the file's <c>units</c> attribute.</summary>
    /// <param name="layer">A layer.</param>
    public static string UnitOf(GridLayer layer) => Table[(int)layer].Unit;

    /// <summary>Description, as written to the file.</summary>
    /// <param name="layer">A layer.</param>
    public static string DescriptionOf(GridLayer layer) => Table[(int)layer].Description;

    /// <summary>Finds a layer by dataset name.</summary>
    /// <param name="name">Dataset name.</param>
    /// <param name="layer">The layer found.</param>
    /// <returns>False when no layer has that name.</returns>
    public static bool TryParse(string name, out GridLayer layer)
    {
        int index = Array.FindIndex(Table, row => row.Name == name);
        layer = (GridLayer)Math.Max(index, 0);
        return index >= 0;
    }
}
