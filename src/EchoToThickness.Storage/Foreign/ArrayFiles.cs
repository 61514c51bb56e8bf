using EchoToThickness.Stacks;
using EchoToThickness.Storage.Layouts;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Opens <c>.npy</c> and raw files as arrays.</summary>
internal static class ArrayFiles
{
    /// <summary>Opens one file; axes come back in the order in which the array is stored, slowest first.</summary>
    public static (IArrayStore Store, IReadOnlyList<StoredAxis> Axes) Open(
        LayoutContext context,
        string path,
        StackFileKind kind
    ) => kind == StackFileKind.Npy ? OpenNpy(context, path) : OpenRaw(context, path);

    private static (IArrayStore, IReadOnlyList<StoredAxis>) OpenNpy(LayoutContext context, string path)
    {
        NpyHeader header = NpyHeader.Read(path);
        IReadOnlyList<StoredAxis> axes = context.Map.Samples.Axes;
        if (header.Shape.Count != axes.Count)
        {
            throw context.DataFault(
                "samples.axes",
                "",
                $"The array has {header.Shape.Count} axes [{string.Join(" x ", header.Shape)}], the layout map names {axes.Count}.",
                "name each axis once, slowest first as NumPy shows them"
            );
        }
        // An array in Fortran order is the array with its axes turned over in C order.
        bool turn = header.FortranOrder && axes.Count > 1;
        FlatArrayStore store = new(
            path,
            header.DataOffset,
            turn ? [.. header.Shape.Reverse()] : header.Shape,
            header.Type,
            header.BigEndian
        );
        return (store, turn ? [.. axes.Reverse()] : axes);
    }

    private static (IArrayStore, IReadOnlyList<StoredAxis>) OpenRaw(LayoutContext context, string path)
    {
        SamplesLayout samples = context.Map.Samples;
        if (samples.Type is not { } stored)
        {
            throw context.MapFault(
                "samples.type",
                "The file is neither HDF5 nor .npy, and the layout map does not say what raw samples it holds.",
                "add type = \"int16\" (and byte_order, header_bytes, extent) to [samples]; or check that this is the right file."
            );
        }
        if (samples.Extent.Count == 0)
            throw context.MapFault(
                "samples.extent",
                "A raw file does not say how large it is.",
                "add extent = [...], in the order of axes, to [samples]."
            );
        SampleType type = stored switch
        {
            StoredSampleType.Int8 => SampleType.Int8,
            StoredSampleType.UInt8 => SampleType.UInt8,
            StoredSampleType.Int16 => SampleType.Int16,
            StoredSampleType.UInt16 => SampleType.UInt16,
            StoredSampleType.Float32 => SampleType.Float32,
            _ => SampleType.Float64,
        };
        long bytes = ForeignFile.Length(path) - samples.HeaderBytes;
        long row = type.SizeBytes();
        foreach (int extent in samples.Extent.Where(e => e > 0))
            row = row > long.MaxValue / extent ? long.MaxValue : row * extent;
        long[] shape = [.. samples.Extent.Select(e => e > 0 ? e : bytes / row)];
        bool open = samples.Extent.Contains(0);
        if (bytes < 0 || (open ? bytes < row || bytes % row != 0 : bytes != row))
        {
            throw context.DataFault(
                "samples.extent",
                "",
                $"Behind the header of {samples.HeaderBytes} bytes the file holds {bytes} bytes; [{string.Join(" x ", samples.Extent)}] samples of {type.SizeBytes()} bytes need {(open ? "a multiple of " : "")}{row}.",
                "correct extent, type or header_bytes; if they are right, the file is truncated: copy it again"
            );
        }
        return (
            new FlatArrayStore(path, samples.HeaderBytes, shape, type, samples.ByteOrder == StoredByteOrder.Big),
            samples.Axes
        );
    }
}
