using EchoToThickness.Stacks;
using EchoToThickness.Storage.Native;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Lines of a native stack file as sources that close their file themselves.</summary>
internal static class NativeLines
{
    /// <summary>The lines; null when the HDF5 file does not say that it is a native stack.</summary>
    public static IReadOnlyList<(string Line, IAScanSource Source)>? Open(string path)
    {
        if (!StackFile.IsStack(path))
            return null;
        List<(string Line, IAScanSource Source)> lines = [];
        try
        {
            IReadOnlyList<string> names;
            using (StackFile file = StackFile.Open(path))
                names = file.LineNames;
            foreach (string name in names)
                lines.Add((names.Count == 1 ? "" : name, OpenLine(path, name)));
            return lines;
        }
        catch
        {
            lines.ForEach(l => l.Source.Dispose());
            throw;
        }
    }

    private static OwnedLine OpenLine(string path, string name)
    {
        StackFile file = StackFile.Open(path);
        try
        {
            return new OwnedLine(file, file.Line(name));
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    private sealed class OwnedLine(StackFile file, StackLine line) : IAScanSource, ITruthSource, ILabelSource
    {
        public StackInfo Info => line.Info;

        public int ScansPerRead => line.ScansPerRead;

        public IReadOnlyList<string> TruthLayers => line.TruthLayers;

        public IAScanReader OpenReader() => line.OpenReader();

        public void ReadTruth(string layer, int firstScan, int scanCount, Span<double> destinationMetres) =>
            line.ReadTruth(layer, firstScan, scanCount, destinationMetres);

        public IReadOnlyList<string> LabelLayers => line.LabelLayers;

        public IReadOnlyList<string> LabelNames(string layer) => line.LabelNames(layer);

        public void ReadLabels(string layer, int firstScan, int scanCount, Span<uint> destination) =>
            line.ReadLabels(layer, firstScan, scanCount, destination);

        public void Dispose()
        {
            line.Dispose();
            file.Dispose();
        }
    }
}
