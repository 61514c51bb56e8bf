using System.Runtime.InteropServices;
using System.Text;

namespace EchoToThickness.Reporting.Export;

/// <summary>NumPy's array format, version 1.0 (numpy.lib.format): magic, header padded to 64 bytes, little-endian doubles.</summary>
internal static class NpyWriter
{
    public static void Write(Stream stream, double[] values, int rows, int columns)
    {
        string header = $"{{'descr': '<f8', 'fortran_order': False, 'shape': ({rows}, {columns}), }}";
        int length = (10 + header.Length + 1 + 63) / 64 * 64 - 10;
        stream.Write([0x93, (byte)'N', (byte)'U', (byte)'M', (byte)'P', (byte)'Y', 1, 0]);
        stream.Write([(byte)length, (byte)(length >> 8)]);
        stream.Write(Encoding.ASCII.GetBytes(header.PadRight(length - 1) + "\n"));
        stream.Write(MemoryMarshal.AsBytes(values.AsSpan()));
    }
}
