using System.Buffers.Binary;
using System.Globalization;
using System.Text;
using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Foreign;

/// <summary>
/// Header of a <c>.npy</c> file, versions 1 to 3. Source: NumPy documentation, "numpy.lib.format", section "Format Version 1.0" and the
/// changes of 2.0 (four bytes of length) and 3.0 (UTF-8).
/// </summary>
/// <param name="Type">Sample type.</param>
/// <param name="BigEndian">Byte order.</param>
/// <param name="FortranOrder">Whether the first axis runs fastest.</param>
/// <param name="Shape">Extents as NumPy shows them.</param>
/// <param name="DataOffset">Bytes ahead of the first sample.</param>
internal sealed record NpyHeader(
    SampleType Type,
    bool BigEndian,
    bool FortranOrder,
    IReadOnlyList<long> Shape,
    long DataOffset
)
{
    private const int MaximumHeaderBytes = 1 << 16;
    private const int MaximumRank = 32;

    /// <summary>Whether the bytes begin as a <c>.npy</c> file does.</summary>
    public static bool Matches(ReadOnlySpan<byte> head) =>
        head.Length >= 6 && head[0] == 0x93 && head[1..6].SequenceEqual("NUMPY"u8);

    /// <summary>Reads the header of a file.</summary>
    /// <param name="path">File.</param>
    /// <exception cref="StackFormatException">Not a <c>.npy</c> file, a damaged header, or a type that is not one of samples.</exception>
    public static NpyHeader Read(string path)
    {
        byte[] head = ForeignFile.Head(path, MaximumHeaderBytes + 12);
        if (!Matches(head) || head.Length < 10)
            throw Damaged(path, "The file does not begin as a .npy file does.");
        int major = head[6];
        if (major is < 1 or > 3)
            throw Damaged(path, $"The .npy format version is {major}; 1 to 3 are known.");
        int lengthBytes = major == 1 ? 2 : 4;
        if (head.Length < 8 + lengthBytes)
            throw Damaged(path, "The file ends inside the .npy header.");
        long length =
            major == 1
                ? BinaryPrimitives.ReadUInt16LittleEndian(head.AsSpan(8))
                : BinaryPrimitives.ReadUInt32LittleEndian(head.AsSpan(8));
        int begin = 8 + lengthBytes;
        if (length > MaximumHeaderBytes || begin + length > head.Length)
            throw Damaged(
                path,
                $"The .npy header is declared as {length} bytes; the file holds {head.Length - begin} of the {MaximumHeaderBytes} allowed."
            );
        string text = Encoding.UTF8.GetString(head, begin, (int)length);
        Dictionary<string, string> fields =
            new NpyHeaderText(text).Fields() ?? throw Damaged(path, $"The .npy header cannot be read: {Shown(text)}.");
        foreach (string key in (string[])["descr", "fortran_order", "shape"])
        {
            if (!fields.ContainsKey(key))
                throw Damaged(path, $"The .npy header has no '{key}': {Shown(text)}.");
        }
        (SampleType type, bool big) = ParseType(path, fields["descr"]);
        bool fortran = fields["fortran_order"] switch
        {
            "True" => true,
            "False" => false,
            string other => throw Damaged(path, $"fortran_order is {Shown(other)}, neither True nor False."),
        };
        return new NpyHeader(type, big, fortran, ParseShape(path, fields["shape"]), begin + length);
    }

    private static (SampleType, bool) ParseType(string path, string descr)
    {
        string name = descr.Trim('\'', '"');
        if (name.Length < 3 || descr[0] is not ('\'' or '"'))
            throw WrongType(path, descr);
        SampleType type = name[1..] switch
        {
            "i1" => SampleType.Int8,
            "u1" => SampleType.UInt8,
            "i2" => SampleType.Int16,
            "u2" => SampleType.UInt16,
            "f4" => SampleType.Float32,
            "f8" => SampleType.Float64,
            _ => throw WrongType(path, descr),
        };
        return name[0] switch
        {
            '<' => (type, false),
            '>' => (type, true),
            '|' when type.SizeBytes() == 1 => (type, false),
            '=' => (type, !BitConverter.IsLittleEndian),
            _ => throw WrongType(path, descr),
        };
    }

    private static long[] ParseShape(string path, string shape)
    {
        string inner = shape.Trim();
        if (inner.Length < 2 || inner[0] != '(' || inner[^1] != ')')
            throw Damaged(path, $"The shape {Shown(shape)} is not a tuple.");
        List<long> extents = [];
        foreach (
            string part in inner[1..^1]
                .Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
        )
        {
            if (!long.TryParse(part, NumberStyles.None, CultureInfo.InvariantCulture, out long extent))
                throw Damaged(path, $"The shape {Shown(shape)} holds {Shown(part)}, which is not an extent.");
            extents.Add(extent);
        }
        if (extents.Count is 0 or > MaximumRank)
            throw Damaged(path, $"The array has {extents.Count} axes; 1 to {MaximumRank} can be read.");
        return [.. extents];
    }

    private static StackFormatException WrongType(string path, string descr)
    {
        string kind = descr.Contains('O', StringComparison.Ordinal)
            ? "The .npy file holds Python objects, which can run code when they are unpacked and are never read"
            : "The samples of the .npy file are of a type that A-scans do not have";
        return new StackFormatException(
            $"{kind} (descr {Shown(descr)}).",
            path,
            "",
            "save the array as int8, uint8, int16, uint16, float32 or float64."
        );
    }

    private static StackFormatException Damaged(string path, string what) =>
        new(what, path, "", "save the array again with numpy.save, or copy the file again.");

    private static string Shown(string text)
    {
        string line = new([.. text.Trim().Select(c => char.IsControl(c) ? '?' : c)]);
        return line.Length > 80 ? line[..80] + "..." : line;
    }
}
