using EchoToThickness.Storage.Hdf5;
using EchoToThickness.Storage.Layouts;
using EchoToThickness.Units;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Reads facts from wherever a layout map says they are, in SI.</summary>
internal sealed class FactReader(LayoutContext context)
{
    /// <summary>One value for the stack; null when the map does not give it, or it is optional and not there.</summary>
    public double? Scalar(string key, ValueSource? source, Dimension? dimension)
    {
        if (source is null || Values(key, source, dimension) is not { } read)
            return null;
        (double[] values, _, string where) = read;
        bool one = values.Length > 0 && Array.TrueForAll(values, v => v.Equals(values[0]));
        if (one && double.IsFinite(values[0]))
            return values[0];
        if (source.Optional)
            return null;
        throw context.DataFault(
            key,
            where,
            !one ? $"One value is needed, but there are {values.Length} different ones." : $"The value is {values[0]}.",
            !one
                ? "name one that holds a single value, or add optional = true to leave the fact unknown"
                : "write a finite number"
        );
    }

    /// <summary>A whole number for the stack.</summary>
    public int? Whole(string key, ValueSource? source)
    {
        if (Scalar(key, source, null) is not { } value)
            return null;
        if (value == Math.Floor(value) && value is >= 1 and <= int.MaxValue)
            return (int)value;
        throw context.DataFault(
            key,
            source!.Dataset ?? source.Attribute ?? "",
            $"The number is {value}.",
            "a whole number from 1 is needed"
        );
    }

    /// <summary>One value for each step of an axis; null when not given.</summary>
    /// <param name="key">Key in the map.</param>
    /// <param name="source">Source.</param>
    /// <param name="dimension">Dimension.</param>
    /// <param name="axis">Name of the axis, for messages.</param>
    /// <param name="count">Extent of the axis.</param>
    /// <param name="other">Extent of the other cell axis; values over both are taken when they do not vary along it.</param>
    /// <param name="slowest">Whether the axis is the slower of the two in the file.</param>
    /// <param name="reversed">Whether the axis is stored backwards.</param>
    public double[]? Vector(
        string key,
        ValueSource? source,
        Dimension dimension,
        string axis,
        int count,
        int other,
        bool slowest,
        bool reversed
    )
    {
        if (source is null)
            return null;
        if (source.First is { } first && source.Step is { } step)
        {
            double from = UnitText.Parse(first, dimension);
            double by = UnitText.Parse(step, dimension);
            double[] even = new double[count];
            for (int i = 0; i < count; i++)
                even[i] = from + i * by;
            return even;
        }
        if (Values(key, source, dimension) is not { } read)
            return null;
        (double[] values, _, string where) = read;
        double[] result = values;
        if (values.Length != count)
        {
            result =
                values.Length == (long)count * other && Reduce(values, count, other, slowest) is { } reduced
                    ? reduced
                    : throw context.DataFault(
                        key,
                        where,
                        $"There are {values.Length} values for an extent of {count} along the {axis} axis.",
                        $"name a dataset with {count} values"
                    );
        }
        int bad = Array.FindIndex(result, v => !double.IsFinite(v));
        if (bad >= 0)
            throw context.DataFault(
                key,
                where,
                $"Value {bad} is {result[bad]}.",
                "write finite numbers, or leave the fact out"
            );
        if (reversed)
            Array.Reverse(result);
        return result;
    }

    /// <summary>Numbers in SI with their extent and the object they came from; null when optional and not there.</summary>
    public (double[] Values, IReadOnlyList<long> Shape, string Where)? Values(
        string key,
        ValueSource source,
        Dimension? dimension
    )
    {
        if (source.Value is { } constant)
            return ([Constant(constant, dimension)], [], "");
        if (source.Attribute is { } attribute)
            return FromAttribute(key, source, attribute, dimension);
        return FromDataset(key, source, source.Dataset!, dimension);
    }

    /// <summary>A constant that <see cref="LayoutFile"/> has checked.</summary>
    public static double Constant(string text, Dimension? dimension)
    {
        if (dimension is null or Dimension.Fraction && ConstantNumber.TryParse(text, out double plain))
            return plain;
        return UnitText.Parse(text, dimension!.Value);
    }

    /// <summary>A text attribute of the stack.</summary>
    public string Text(string key, string attribute)
    {
        if (!attribute.Contains('@', StringComparison.Ordinal))
            throw context.MapFault(
                key,
                $"'{attribute}' does not name an attribute.",
                "write object@name, for example \"/ascans@case\"."
            );
        Hdf5Attribute? found = Find(key, attribute, out string owner, out string where);
        if (found is { IsText: true })
            return found.ToText();
        throw context.DataFault(
            key,
            where,
            found is null ? Missing(key, owner) : "The attribute is not a text.",
            "correct the path (`ett describe` lists what the file holds), or leave the section out"
        );
    }

    private Hdf5Attribute? Find(string key, string attribute, out string owner, out string where)
    {
        Hdf5File file = context.Require(key);
        int at = attribute.LastIndexOf('@');
        owner = context.Resolve(attribute[..at]);
        string name = attribute[(at + 1)..];
        where = $"{owner}, attribute {name}";
        return file.Exists(owner) ? file.Attribute(owner, name) : null;
    }

    private string Missing(string key, string owner) =>
        context.Require(key).Exists(owner) ? "There is no such attribute." : "There is no such object.";

    private (double[], IReadOnlyList<long>, string)? FromAttribute(
        string key,
        ValueSource source,
        string text,
        Dimension? dimension
    )
    {
        Hdf5Attribute? attribute = Find(key, text, out string owner, out string where);
        if (attribute is null)
        {
            if (source.Optional)
                return null;
            throw context.DataFault(
                key,
                where,
                Missing(key, owner),
                "correct the path (`ett describe` lists what the file holds), or add optional = true"
            );
        }
        if (attribute.IsText)
            return ([FromText(key, source, attribute.ToText(), dimension, where)], [], where);
        (double factor, double offset) = Unit(key, source, dimension, null, where);
        return (Convert(attribute.ToDoubles(), source.Scale * factor, offset), attribute.Dimensions, where);
    }

    private (double[], IReadOnlyList<long>, string)? FromDataset(
        string key,
        ValueSource source,
        string text,
        Dimension? dimension
    )
    {
        Hdf5File file = context.Require(key);
        string path = context.Resolve(text);
        if (!file.IsDataset(path))
        {
            if (source.Optional && !file.Exists(path))
                return null;
            throw context.DataFault(
                key,
                path,
                file.Exists(path) ? "This is a group, not a dataset." : "There is no such dataset.",
                "correct the path (`ett describe` lists what the file holds), or add optional = true"
            );
        }
        Hdf5Dataset dataset = file.Dataset(path);
        if (Hdf5Values.IsText(dataset.Type) && dataset.ReadTexts() is [string one])
            return ([FromText(key, source, one, dimension, path)], [], path);
        (double factor, double offset) = Unit(key, source, dimension, dataset, path);
        return (Convert(dataset.ReadDoubles(), source.Scale * factor, offset), dataset.Dimensions, path);
    }

    private double FromText(string key, ValueSource source, string text, Dimension? dimension, string where)
    {
        bool plain = ConstantNumber.TryParse(text.Trim(), out double number);
        if (plain)
        {
            (double factor, double offset) = Unit(key, source, dimension, null, where);
            return number * source.Scale * factor + offset;
        }
        if (dimension is { } d && UnitText.TryParse(text.Trim(), d, out double value))
            return value;
        throw context.DataFault(
            key,
            where,
            $"The text \"{(text.Length > 40 ? text[..40] + "..." : text)}\" is not {(dimension is { } e ? "a " + UnitText.NameOf(e) : "a number")}.",
            "name another source, or give the fact as a constant"
        );
    }

    /// <summary>Factor and offset to SI from the map's unit, else from the dataset's own 'units' or 'unit' attribute.</summary>
    public (double Factor, double Offset) Unit(
        string key,
        ValueSource source,
        Dimension? dimension,
        Hdf5Dataset? dataset,
        string where
    )
    {
        if (dimension is not { } d)
            return (1, 0);
        string? unit = source.Unit;
        if (unit is null && dataset is not null)
        {
            unit = dataset
                .Attributes()
                .Where(a => a.Name is "units" or "unit" && a.IsText)
                .Select(a => a.ToText().Trim())
                .FirstOrDefault(t => UnitText.TryParse("1 " + t, d, out _));
        }
        if (unit is null)
        {
            if (d == Dimension.Fraction)
                return (1, 0);
            throw context.MapFault(
                key,
                $"The number at {where} has no unit.",
                $"add unit = \"{UnitText.UnitsOf(d)[0]}\" (units: {string.Join(", ", UnitText.UnitsOf(d))})."
            );
        }
        double offset = UnitText.Parse("0 " + unit, d);
        return (UnitText.Parse("1 " + unit, d) - offset, offset);
    }

    private static double[] Convert(double[] values, double factor, double offset)
    {
        for (int i = 0; i < values.Length; i++)
            values[i] = values[i] * factor + offset;
        return values;
    }

    private static double[]? Reduce(double[] values, int count, int other, bool slowest)
    {
        double[] result = new double[count];
        for (int i = 0; i < count; i++)
        {
            for (int j = 0; j < other; j++)
            {
                double value = values[slowest ? i * other + j : j * count + i];
                if (j == 0)
                    result[i] = value;
                else if (!value.Equals(result[i]))
                    return null;
            }
        }
        return result;
    }
}
