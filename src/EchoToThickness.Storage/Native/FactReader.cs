using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Native;

/// <summary>Takes facts off the attributes of one group; each is finite, in its documented unit and within its range.</summary>
internal sealed class FactReader
{
    private readonly string _file;
    private readonly string _path;
    private readonly Dictionary<string, Hdf5Attribute> _attributes = new(StringComparer.Ordinal);

    public FactReader(Hdf5File file, string path)
    {
        _file = file.Path;
        _path = path;
        foreach (Hdf5Attribute attribute in file.Attributes(path))
            _attributes[attribute.Name] = attribute;
    }

    public double? Number(string name, string unit, bool positive)
    {
        if (!_attributes.TryGetValue(name, out Hdf5Attribute? attribute))
            return null;
        double value = attribute.ToDouble();
        if (!double.IsFinite(value) || positive && value <= 0)
        {
            throw Wrong(
                name,
                FormattableString.Invariant(
                    $"The value is {value}, but must be {(positive ? "positive and " : "")}finite."
                ),
                $"write the right value in {unit}, or leave the attribute out where it is optional."
            );
        }
        if (_attributes.TryGetValue(name + "_units", out Hdf5Attribute? units) && units.ToText() != unit)
        {
            throw Wrong(
                name + "_units",
                $"The unit is '{units.ToText()}', but this format stores {name} in '{unit}'.",
                $"convert the value to {unit}, or describe the file with a layout map."
            );
        }
        return value;
    }

    public double Required(string name, string unit, bool positive, string meaning) =>
        Number(name, unit, positive)
        ?? throw Wrong(
            name,
            $"The {meaning} is missing.",
            $"write {name} in {unit}, or describe the file with a layout map."
        );

    public int? Count(string name)
    {
        if (!_attributes.TryGetValue(name, out Hdf5Attribute? attribute))
            return null;
        long value = attribute.ToInt64();
        return value is > 0 and <= int.MaxValue
            ? (int)value
            : throw Wrong(
                name,
                $"The count is {value}, but must be at least 1.",
                "write the right count, or leave it out."
            );
    }

    public string? Text(string name) =>
        _attributes.TryGetValue(name, out Hdf5Attribute? attribute) ? attribute.ToText() : null;

    public T Word<T>(string name, (string Word, T Value)[] words, T missing)
        where T : struct => Word(name, words) ?? missing;

    public T? Word<T>(string name, (string Word, T Value)[] words)
        where T : struct
    {
        if (Text(name) is not { } text)
            return null;
        foreach ((string word, T value) in words)
        {
            if (word == text)
                return value;
        }
        throw Wrong(
            name,
            $"The value is '{text}'.",
            $"write one of {string.Join(", ", Array.ConvertAll(words, w => w.Word))}."
        );
    }

    public StackFormatException Wrong(string name, string what, string remedy) =>
        new(what, _file, $"{_path}, attribute {name}", remedy);
}
