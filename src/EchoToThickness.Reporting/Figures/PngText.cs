using System.Buffers.Binary;
using System.Text;

namespace EchoToThickness.Reporting.Figures;

/// <summary>Words inside a PNG file: chunks <c>iTXt</c> (ISO/IEC 15948, 11.3.4.5) behind the header, uncompressed UTF-8.</summary>
internal static class PngText
{
    private const int BehindHeader = 8 + 12 + 13;

    public static byte[] Insert(ReadOnlySpan<byte> png, IReadOnlyList<(string Name, string Value)> notes)
    {
        using var result = new MemoryStream();
        result.Write(png[..BehindHeader]);
        Span<byte> four = stackalloc byte[4];
        foreach ((string name, string value) in notes)
        {
            // Keyword, end, not compressed, method 0, no language, no translated keyword, text.
            byte[] chunk =
            [
                .. "iTXt"u8,
                .. Encoding.Latin1.GetBytes(name),
                0,
                0,
                0,
                0,
                0,
                .. Encoding.UTF8.GetBytes(value),
            ];
            BinaryPrimitives.WriteInt32BigEndian(four, chunk.Length - 4);
            result.Write(four);
            result.Write(chunk);
            BinaryPrimitives.WriteUInt32BigEndian(four, Crc(chunk));
            result.Write(four);
        }
        result.Write(png[BehindHeader..]);
        return result.ToArray();
    }

    /// <summary>CRC-32 of ISO 3309, as PNG wants it (polynomial EDB88320, reflected).</summary>
    private static uint Crc(ReadOnlySpan<byte> bytes)
    {
        uint crc = 0xFFFFFFFF;
        foreach (byte b in bytes)
        {
            crc ^= b;
            for (int k = 0; k < 8; k++)
                crc = (crc & 1) != 0 ? (crc >> 1) ^ 0xEDB88320 : crc >> 1;
        }
        return ~crc;
    }
}
