using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace EchoToThickness.Studies.Sources;

/// <summary>SHA-256 of text, for names and seeds that depend on content.</summary>
internal static class ContentHash
{
    /// <summary>Lower-case hexadecimal.</summary>
    public static string Of(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    /// <summary>The same of a file.</summary>
    public static string OfFile(string path) => Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(path)));

    /// <summary>The first 64 bits.</summary>
    public static ulong Word(string text) =>
        BinaryPrimitives.ReadUInt64LittleEndian(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
}
