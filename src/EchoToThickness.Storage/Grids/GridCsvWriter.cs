using System.Globalization;
using System.Text;
using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Storage.Files;

namespace EchoToThickness.Storage.Grids;

/// <summary>
/// Writes a map as CSV for a spreadsheet: millimetres, microseconds, the status as a word, point as decimal mark, an empty
/// field where there is no number. Streams by rows.
/// </summary>
public static class GridCsvWriter
{
    /// <summary>Long form: one line a cell with every layer held.</summary>
    /// <param name="file">The grid file.</param>
    /// <param name="path">Where the CSV will stand.</param>
    public static void WriteLong(GridFile file, string path)
    {
        ArgumentNullException.ThrowIfNull(file);
        Save(
            path,
            writer =>
            {
                bool header = true;
                foreach (GridMap map in file.Maps)
                {
                    GridLayer[] layers = [.. map.Layers.Where(l => l != GridLayer.Status)];
                    if (header)
                        writer.WriteLine(
                            string.Join(
                                ',',
                                ["line", "scan", "beam", "scan_mm", "index_mm", .. layers.Select(Title), "status"]
                            )
                        );
                    header = false;
                    Rows(map, layers, writer);
                }
            }
        );
    }

    /// <summary>Matrix form of one layer: index positions in the first line, one line a scan position.</summary>
    /// <param name="map">The map.</param>
    /// <param name="layer">A layer of floats, or the status.</param>
    /// <param name="path">Where the CSV will stand.</param>
    public static void WriteMatrix(GridMap map, GridLayer layer, string path)
    {
        ArgumentNullException.ThrowIfNull(map);
        Save(
            path,
            writer =>
            {
                StringBuilder line = new(Title(layer));
                for (int beam = 0; beam < map.Beams; beam++)
                    line.Append(',').Append(Position(map.IndexPositionsMetres, beam));
                writer.WriteLine(line);
                Column column = new(map, layer);
                for (int scan = 0; scan < map.Scans; scan++)
                {
                    column.Load(scan);
                    line.Clear().Append(Position(map.ScanPositionsMetres, scan));
                    for (int beam = 0; beam < map.Beams; beam++)
                        line.Append(',').Append(column.Text(beam));
                    writer.WriteLine(line);
                }
            }
        );
    }

    private static void Rows(GridMap map, GridLayer[] layers, StreamWriter writer)
    {
        Column[] columns = [.. layers.Append(GridLayer.Status).Select(l => new Column(map, l))];
        StringBuilder line = new();
        for (int scan = 0; scan < map.Scans; scan++)
        {
            foreach (Column column in columns)
                column.Load(scan);
            for (int beam = 0; beam < map.Beams; beam++)
            {
                line.Clear().Append(Quoted(map.Name)).Append(CultureInfo.InvariantCulture, $",{scan},{beam},");
                line.Append(map.ScanPositionsMetres is null ? "" : Position(map.ScanPositionsMetres, scan)).Append(',');
                line.Append(map.IndexPositionsMetres is null ? "" : Position(map.IndexPositionsMetres, beam));
                foreach (Column column in columns)
                    line.Append(',').Append(column.Text(beam));
                writer.WriteLine(line);
            }
        }
    }

    private static void Save(string path, Action<StreamWriter> write)
    {
        using AtomicFile file = AtomicFile.Create(path);
        using (FileStream stream = new(file.Handle, FileAccess.Write, 1 << 16))
        using (StreamWriter writer = new(stream, new UTF8Encoding(false)) { NewLine = "\n" })
        {
            write(writer);
        }
        file.Commit(flushToDisk: false);
    }

    private static string Title(GridLayer layer) =>
        GridLayers.NameOf(layer)
        + GridLayers.UnitOf(layer) switch
        {
            "m" => "_mm",
            "s" => "_us",
            "dB" => "_db",
            _ => "",
        };

    private static string Position(IReadOnlyList<double>? positionsMetres, int index) =>
        positionsMetres is null
            ? index.ToString(CultureInfo.InvariantCulture)
            : (positionsMetres[index] * 1e3).ToString("0.######", CultureInfo.InvariantCulture);

    private static string Quoted(string text) =>
        text.AsSpan().IndexOfAny(",\"\n\r") < 0
            ? text
            : "\"" + text.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"";

    /// <summary>One layer's row and how its cells are printed.</summary>
    private sealed class Column(GridMap map, GridLayer layer)
    {
        private readonly float[] _floats =
            GridLayers.TypeOf(layer) == GridLayerType.Float32 ? new float[map.Beams] : [];
        private readonly byte[] _bytes = GridLayers.TypeOf(layer) == GridLayerType.UInt8 ? new byte[map.Beams] : [];
        private readonly ushort[] _words =
            GridLayers.TypeOf(layer) == GridLayerType.UInt16 ? new ushort[map.Beams] : [];
        private readonly double _scale = GridLayers.UnitOf(layer) switch
        {
            "m" => 1e3,
            "s" => 1e6,
            _ => 1,
        };

        public void Load(int scan)
        {
            if (_floats.Length > 0)
                map.ReadFloats(layer, scan, _floats);
            else if (_words.Length > 0)
                map.ReadNotes(scan, _words);
            else
                map.ReadBytes(layer, scan, _bytes);
        }

        public string Text(int beam)
        {
            if (_floats.Length > 0)
            {
                double value = _floats[beam] * _scale;
                return double.IsFinite(value) ? value.ToString("0.######", CultureInfo.InvariantCulture) : "";
            }
            if (_words.Length > 0)
                return _words[beam].ToString(CultureInfo.InvariantCulture);
            return layer == GridLayer.Status
                ? ((CellStatus)_bytes[beam]).ToString()
                : _bytes[beam].ToString(CultureInfo.InvariantCulture);
        }
    }
}
