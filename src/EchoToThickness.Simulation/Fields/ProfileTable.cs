using System.Globalization;
using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.Simulation.Fields;

/// <summary>The numbers of a measured profile, metres, from a CSV table in millimetres or from a thickness grid; NaN where none is held.</summary>
internal sealed class ProfileTable
{
    private readonly float[] _values;

    private ProfileTable(float[] values, int rows, int columns, double stepAlongMetres, double stepAroundMetres)
    {
        (_values, Rows, Columns) = (values, rows, columns);
        (StepAlongMetres, StepAroundMetres) = (stepAlongMetres, stepAroundMetres);
    }

    public int Rows { get; }

    public int Columns { get; }

    public double StepAlongMetres { get; }

    public double StepAroundMetres { get; }

    public ReadOnlySpan<float> Row(int row) => _values.AsSpan(row * Columns, Columns);

    /// <summary>Reads the file of a profile.</summary>
    /// <exception cref="StackFormatException">Missing, damaged, ragged, too small, or without the distances of rows and columns.</exception>
    public static ProfileTable Read(MeasuredProfile profile, string folder)
    {
        string path = Path.IsPathRooted(profile.File) ? profile.File : Path.Combine(folder, profile.File);
        if (!File.Exists(path))
            throw new StackFormatException(
                "The measured profile is missing.",
                path,
                "",
                "give a path that counts from the folder of the scene."
            );
        bool grid = Path.GetExtension(path).ToLowerInvariant() is ".h5" or ".hdf5";
        ProfileTable table = grid ? Grid(profile, path) : Csv(profile, path);
        for (int i = 0; i < table._values.Length; i++)
            table._values[i] = (float)(table._values[i] * profile.Scale);
        return table;
    }

    private static ProfileTable Grid(MeasuredProfile profile, string path)
    {
        using GridFile file = GridFile.Open(path);
        GridMap map = file.Maps[0];
        if (
            !GridLayers.TryParse(profile.Layer, out GridLayer layer)
            || GridLayers.UnitOf(layer) != "m"
            || !map.Layers.Contains(layer)
        )
            throw new StackFormatException(
                $"The grid holds no layer '{profile.Layer}' in metres.",
                path,
                profile.Layer,
                "write layer = \"thickness\", or another layer of lengths that the grid holds."
            );
        float[] values = map.ReadFloats(layer);
        CellStatus[] status = map.ReadStatus();
        for (int i = 0; i < values.Length; i++)
            if (status[i] != CellStatus.Measured)
                values[i] = float.NaN;
        double? along = profile.StepAlongMetres ?? StepOf(map.ScanPositionsMetres);
        double? around = profile.StepAroundMetres ?? StepOf(map.IndexPositionsMetres);
        return Checked(values, map.Scans, map.Beams, along, around, path);
    }

    private static ProfileTable Csv(MeasuredProfile profile, string path)
    {
        var values = new List<float>();
        var positions = new List<double>();
        List<double>? header = null;
        int columns = -1;
        int number = 0;
        foreach (string line in File.ReadLines(path))
        {
            number++;
            if (line.Length == 0 || line[0] == '#')
                continue;
            string[] fields = line.Split(',');
            if (
                columns < 0
                && header is null
                && fields.Length > 1
                && !Number(fields[0], out _)
                && fields[0].Trim().Length > 0
            )
            {
                header = [.. fields.Skip(1).Select((f, i) => Required(f, path, number, i + 2))];
                continue;
            }
            int first = header is null ? 0 : 1;
            if (columns < 0)
                columns = header?.Count ?? fields.Length;
            if (fields.Length - first != columns)
                throw new StackFormatException(
                    $"Line {number} holds {fields.Length - first} values, {columns} are needed.",
                    path,
                    $"line {number}",
                    "give every row the same number of values; leave a field empty where nothing was measured."
                );
            if (first == 1)
                positions.Add(Required(fields[0], path, number, 1) / 1000);
            for (int i = first; i < fields.Length; i++)
                values.Add(
                    string.IsNullOrWhiteSpace(fields[i])
                        ? float.NaN
                        : (float)(Required(fields[i], path, number, i + 1) / 1000)
                );
        }
        int rows = columns > 0 ? values.Count / columns : 0;
        double? along = profile.StepAlongMetres ?? StepOf(positions);
        double? around = profile.StepAroundMetres ?? StepOf(header?.Select(p => p / 1000).ToArray());
        return Checked([.. values], rows, Math.Max(columns, 0), along, around, path);
    }

    private static ProfileTable Checked(
        float[] values,
        int rows,
        int columns,
        double? along,
        double? around,
        string path
    )
    {
        if (rows < 2 || columns < 2)
            throw new StackFormatException(
                $"A profile of {rows} x {columns} values is too small.",
                path,
                "",
                "give at least two rows and two columns."
            );
        if (!(along > 0) || !(around > 0))
            throw new StackFormatException(
                "The distances of rows and columns are not known, or not even.",
                path,
                "",
                "write step_along and step_around in the scene, or give the table evenly spaced positions."
            );
        return new ProfileTable(values, rows, columns, along.Value, around.Value);
    }

    /// <summary>The common distance of positions; null when they are not even to a hundredth.</summary>
    private static double? StepOf(IReadOnlyList<double>? positions)
    {
        if (positions is null || positions.Count < 2)
            return null;
        double step = (positions[^1] - positions[0]) / (positions.Count - 1);
        for (int i = 1; i < positions.Count; i++)
            if (!(Math.Abs(positions[i] - positions[i - 1] - step) <= 0.01 * Math.Abs(step)))
                return null;
        return step;
    }

    private static bool Number(string text, out double value) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out value);

    private static double Required(string text, string path, int line, int column) =>
        Number(text, out double value) && double.IsFinite(value)
            ? value
            : throw new StackFormatException(
                $"'{text.Trim()}' is not a number.",
                path,
                $"line {line}, field {column}",
                "write numbers in millimetres with a point as decimal mark; leave a field empty where nothing was measured."
            );
}
