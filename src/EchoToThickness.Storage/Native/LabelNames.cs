using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Native;

/// <summary>The attribute <c>bit_names</c> of a label layer: names of the bits, bit 0 first, separated by blanks; <c>-</c> has no meaning.</summary>
internal static class LabelNames
{
    public const string Attribute = "bit_names";
    private const int Most = 32;
    private const int LongestName = 64;
    private const string NoName = "-";

    /// <summary>What is wrong with names that a program wants to write; null: nothing.</summary>
    public static string? Fault(IReadOnlyList<string> names, ReadOnlySpan<uint> labels)
    {
        if (names.Count is 0 or > Most)
            return $"{names.Count} names of bits were given; possible are 1 to {Most}.";
        uint known = 0;
        for (int bit = 0; bit < names.Count; bit++)
        {
            if (names[bit].Length == 0)
                continue;
            if (!IsName(names[bit]))
                return $"'{names[bit]}' cannot name a bit: small letters, digits and underscores, at most {LongestName}.";
            if (names.Take(bit).Contains(names[bit]))
                return $"The name '{names[bit]}' stands for two bits.";
            known |= 1u << bit;
        }
        foreach (uint label in labels)
        {
            if ((label & ~known) != 0)
                return $"The labels 0x{label:x8} hold a bit without a name.";
        }
        return null;
    }

    public static string Write(IReadOnlyList<string> names) =>
        string.Join(' ', names.Select(name => name.Length == 0 ? NoName : name));

    public static string[] Read(Hdf5File file, Hdf5Dataset dataset)
    {
        Hdf5Attribute? attribute = dataset.Attributes().FirstOrDefault(a => a.Name == Attribute);
        string[] words = attribute?.ToText()?.Split(' ', StringSplitOptions.RemoveEmptyEntries) ?? [];
        string[] names = [.. words.Take(Most + 1).Select(word => word == NoName ? "" : word)];
        if (names.Length == 0 || Fault(names, []) is not null)
        {
            string what =
                attribute is null ? "The names of the bits are missing"
                : names.Length == 0 ? "The names of the bits are empty"
                : Fault(names, [])!.TrimEnd('.');
            throw new StackFormatException(
                what + ".",
                file.Path,
                $"{dataset.Path}@{Attribute}",
                "write the names of the bits as one text, bit 0 first, separated by blanks, '-' for a bit without meaning."
            );
        }
        return names;
    }

    private static bool IsName(string name) =>
        name.Length is > 0 and <= LongestName && name.All(c => c is >= 'a' and <= 'z' or >= '0' and <= '9' or '_');
}
