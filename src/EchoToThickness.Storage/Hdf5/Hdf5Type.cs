using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>A stored type: what a read would hand out, checked before anything is read.</summary>
/// <param name="Class">Class of the type.</param>
/// <param name="SizeBytes">Bytes of one element in the file.</param>
/// <param name="IsSigned">Integers only: two's complement.</param>
/// <param name="IsBigEndian">Most significant byte first.</param>
/// <param name="IsStandard">
/// Integers: all bits used; floats: IEEE 754 single or double. Others cannot be read as numbers.
/// </param>
public sealed record Hdf5Type(Hdf5TypeClass Class, int SizeBytes, bool IsSigned, bool IsBigEndian, bool IsStandard)
{
    /// <summary>Variable-length types: whether the sequence is a string.</summary>
    public bool IsVariableString { get; init; }

    /// <summary>Base of enumerations, sequences and arrays; else null.</summary>
    public Hdf5Type? Base { get; init; }

    /// <summary>Enumerations: names and values in file order; else empty.</summary>
    public IReadOnlyList<(string Name, long Value)> Members { get; init; } = [];

    /// <summary>The sample type with the same values, or null when the type is none of the six (whatever its byte order).</summary>
    public SampleType? SampleType =>
        IsStandard
            ? (Class, SizeBytes, IsSigned) switch
            {
                (Hdf5TypeClass.Integer, 1, true) => Stacks.SampleType.Int8,
                (Hdf5TypeClass.Integer, 1, false) => Stacks.SampleType.UInt8,
                (Hdf5TypeClass.Integer, 2, true) => Stacks.SampleType.Int16,
                (Hdf5TypeClass.Integer, 2, false) => Stacks.SampleType.UInt16,
                (Hdf5TypeClass.Float, 4, _) => Stacks.SampleType.Float32,
                (Hdf5TypeClass.Float, 8, _) => Stacks.SampleType.Float64,
                _ => null,
            }
            : null;

    /// <summary>The type in words, for messages: <c>big-endian signed 16-bit integer</c>.</summary>
    public string Describe() =>
        Class switch
        {
            Hdf5TypeClass.Integer =>
                $"{(IsBigEndian ? "big-endian " : "")}{(IsSigned ? "signed" : "unsigned")} {SizeBytes * 8}-bit integer",
            Hdf5TypeClass.Float => $"{(IsBigEndian ? "big-endian " : "")}{SizeBytes * 8}-bit float",
            Hdf5TypeClass.VariableLength => IsVariableString
                ? "string of variable length"
                : "sequence of variable length",
            Hdf5TypeClass.String => $"string of {SizeBytes} bytes",
            _ => $"{Class} of {SizeBytes} bytes",
        };
}
