using EchoToThickness.Grids;

namespace EchoToThickness.Workbench.Sessions;

/// <summary>One map as it was measured: layers that were asked for, and the text it was measured with.</summary>
internal sealed class MapResult(int scans, int beams, IReadOnlyList<GridLayer> layers, string text)
{
    private readonly Dictionary<GridLayer, float[]> _floats = layers
        .Where(layer => GridLayers.TypeOf(layer) == GridLayerType.Float32)
        .ToDictionary(layer => layer, _ => Missing(scans * beams));

    public int Scans { get; } = scans;
    public int Beams { get; } = beams;
    public string Text { get; } = text;

    /// <summary>Floating-point layers, in the order they are sent.</summary>
    public IReadOnlyList<GridLayer> Layers { get; } =
    [.. layers.Where(layer => GridLayers.TypeOf(layer) == GridLayerType.Float32)];

    /// <summary>Shape [scan, beam].</summary>
    public byte[] Status { get; } = new byte[scans * beams];

    /// <summary>Shape [scan, beam]; empty when the layer was not asked for.</summary>
    public float[] this[GridLayer layer] => _floats.GetValueOrDefault(layer) ?? [];

    private static float[] Missing(int count)
    {
        var values = new float[count];
        Array.Fill(values, float.NaN);
        return values;
    }
}
