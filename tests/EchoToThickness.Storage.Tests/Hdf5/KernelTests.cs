using System.Text;
using EchoToThickness.Storage.Hdf5;
using Xunit;

namespace EchoToThickness.Storage.Tests.Hdf5;

/// <summary>Checksums, shuffle and LZF against published values or their definitions.</summary>
public sealed class KernelTests
{
    [Theory]
    // From lookup3.c itself (Bob Jenkins, 2006, driver5): hashlittle with initial value 0.
    [InlineData("", 0xdeadbeef)]
    [InlineData("Four score and seven years ago", 0x17770551)]
    public void Lookup3_gives_the_published_values(string text, uint expected) =>
        Assert.Equal(expected, Hdf5Checksums.Lookup3(Encoding.ASCII.GetBytes(text)));

    [Fact]
    public void Fletcher32_equals_its_definition_at_every_length()
    {
        byte[] data = new byte[70_001];
        new Random(3).NextBytes(data);
        for (int length = 0; length <= 600; length++)
            Assert.Equal(Definition(data.AsSpan(0, length)), Hdf5Checksums.Fletcher32(data.AsSpan(0, length)));
        Assert.Equal(Definition(data), Hdf5Checksums.Fletcher32(data));
        // Worst case for the vector sums, and sums that are multiples of 65535.
        foreach (byte value in new byte[] { 0x00, 0xff })
        {
            data.AsSpan().Fill(value);
            foreach (int length in new[] { 2, 64, 1024, 65_536, 70_000, 70_001 })
                Assert.Equal(Definition(data.AsSpan(0, length)), Hdf5Checksums.Fletcher32(data.AsSpan(0, length)));
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(8)]
    public void Undoing_the_shuffle_equals_its_definition_at_every_length(int elementBytes)
    {
        byte[] plain = new byte[2053];
        new Random(elementBytes).NextBytes(plain);
        for (int length = 0; length <= plain.Length; length += length < 600 ? 1 : 97)
        {
            byte[] shuffled = new byte[length];
            byte[] back = new byte[length];
            byte[] scalar = new byte[length];
            ByteShuffle.Apply(plain.AsSpan(0, length), shuffled, elementBytes);
            ByteShuffle.Undo(shuffled, back, elementBytes);
            int count = length / elementBytes;
            ByteShuffle.UndoScalar(shuffled, scalar, elementBytes, count, 0);
            shuffled.AsSpan(count * elementBytes).CopyTo(scalar.AsSpan(count * elementBytes));
            Assert.Equal(plain[..length], back);
            Assert.Equal(scalar, back);
        }
    }

    [Fact]
    public void Damaged_LZF_is_refused()
    {
        byte[] plain = new byte[8];
        // One literal run of 8, then nothing.
        Assert.True(Lzf.TryUnpack([7, 1, 2, 3, 4, 5, 6, 7, 8], plain));
        Assert.Equal([1, 2, 3, 4, 5, 6, 7, 8], plain);
        // Two literals, then six bytes from two back.
        Assert.True(Lzf.TryUnpack([1, 9, 8, 4 << 5, 1], plain));
        Assert.Equal([9, 8, 9, 8, 9, 8, 9, 8], plain);
        Assert.False(Lzf.TryUnpack([7, 1, 2], plain));
        Assert.False(Lzf.TryUnpack([1, 9, 8, 4 << 5, 7], plain));
        Assert.False(Lzf.TryUnpack([0, 9], plain));
        Assert.False(Lzf.TryUnpack([1, 9, 8, 5 << 5, 1], plain));
    }

    /// <summary>As the HDF5 file format specification describes it, one word at a time.</summary>
    private static uint Definition(ReadOnlySpan<byte> data)
    {
        uint s1 = 0;
        uint s2 = 0;
        for (int i = 0; i < data.Length; i += 2)
        {
            s1 += (uint)(data[i] << 8 | (i + 1 < data.Length ? data[i + 1] : 0));
            s2 += s1 = (s1 & 0xffff) + (s1 >> 16);
            s2 = (s2 & 0xffff) + (s2 >> 16);
        }
        return s2 << 16 | s1;
    }
}
