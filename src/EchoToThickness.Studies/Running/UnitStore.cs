using System.Globalization;
using System.Runtime.InteropServices;
using System.Security.Cryptography;
using System.Text;
using EchoToThickness.Storage.Files;
using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Studies.Running;

/// <summary>
/// Finished pieces of a study on disk, one file each, named by the SHA-256 of everything that decides their content. A file appears
/// complete or not at all; a damaged one counts as not there.
/// </summary>
/// <remarks>
/// Layout: the 8 bytes <c>ETTUNIT2</c>, then arrays (element size as one byte, count as 64-bit integer, elements little-endian), then the
/// SHA-256 of all before it. Run time stands in a file of its own beside it, so that the same study always gives the same bytes.
/// </remarks>
public sealed class UnitStore
{
    private static readonly byte[] Magic = "ETTUNIT2"u8.ToArray();
    private readonly string _folder;

    /// <summary>Opens a store, making its folder.</summary>
    /// <param name="folder">The folder.</param>
    public UnitStore(string folder)
    {
        _folder = folder;
        Directory.CreateDirectory(folder);
    }

    /// <summary>Identity of the program's code: results of another build are not reused.</summary>
    public static string Build { get; } =
        string.Join(
            ' ',
            new[]
            {
                typeof(Procedures.Procedure),
                typeof(Storage.Foreign.StackOpener),
                typeof(Simulation.DemoScene),
                typeof(UnitStore),
            }.Select(t => t.Module.ModuleVersionId.ToString("n"))
        );

    /// <summary>Name of the truth of a block.</summary>
    /// <param name="point">The point.</param>
    /// <param name="block">Number of the block.</param>
    public static string NameOf(StudyPoint point, int block)
    {
        ArgumentNullException.ThrowIfNull(point);
        return ContentHash.Of($"truth\n{Build}\n{point.Identity}\n{point.BlockIdentity(block)}");
    }

    /// <summary>Name of what a method made of a block.</summary>
    /// <param name="point">The point.</param>
    /// <param name="block">Number of the block.</param>
    /// <param name="procedureSha256">Identity of the procedure.</param>
    public static string NameOf(StudyPoint point, int block, string procedureSha256)
    {
        ArgumentNullException.ThrowIfNull(point);
        return ContentHash.Of($"result\n{Build}\n{point.Identity}\n{point.BlockIdentity(block)}\n{procedureSha256}");
    }

    /// <summary>Name of what a procedure made of anything that a text describes.</summary>
    /// <param name="identity">Text that decides every A-scan.</param>
    /// <param name="procedureSha256">Identity of the procedure.</param>
    public static string NameOf(string identity, string procedureSha256) =>
        ContentHash.Of($"result\n{Build}\n{identity}\n{procedureSha256}");

    /// <summary>Whether a piece is there and whole.</summary>
    /// <param name="name">Its name.</param>
    public bool Holds(string name) => Read(name) is not null;

    /// <summary>Keeps the truth of a block.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="truth">The truth.</param>
    public void Write(string name, BlockTruth truth)
    {
        ArgumentNullException.ThrowIfNull(truth);
        Write(
            name,
            writer =>
            {
                Put<double>(writer, truth.ThicknessMetres);
                Put<double>(writer, truth.MinimumMetres);
                writer.Write((byte)truth.BoundsMetres.Count);
                foreach (double[] bounds in truth.BoundsMetres)
                    Put<double>(writer, bounds);
                Put<int>(writer, truth.Cluster);
                Put<uint>(writer, truth.Planted);
                Put<double>(writer, [truth.VelocityMetresPerSecond ?? double.NaN, truth.FrequencyHz ?? double.NaN]);
            }
        );
    }

    /// <summary>Keeps what a method made of a block.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="result">The result.</param>
    /// <param name="seconds">How long measuring took; NaN when not known.</param>
    public void Write(string name, MethodResult result, double seconds)
    {
        ArgumentNullException.ThrowIfNull(result);
        File.WriteAllText(TimePath(name), seconds.ToString("R", CultureInfo.InvariantCulture));
        Write(
            name,
            writer =>
            {
                Put<float>(writer, result.ThicknessMetres);
                Put<float>(writer, result.UncertaintyMetres);
                Put<float>(writer, result.NoiseMetres);
                Put<float>(writer, result.WrongProbability);
                Put<byte>(writer, result.Status);
            }
        );
    }

    /// <summary>The truth of a block; null when it is not there or damaged.</summary>
    /// <param name="name">Its name.</param>
    public BlockTruth? ReadTruth(string name)
    {
        if (Read(name) is not { } reader)
            return null;
        double[] thickness = Take<double>(reader);
        double[] minimum = Take<double>(reader);
        var bounds = new double[reader.ReadByte()][];
        for (int i = 0; i < bounds.Length; i++)
            bounds[i] = Take<double>(reader);
        int[] cluster = Take<int>(reader);
        uint[] planted = Take<uint>(reader);
        double[] facts = Take<double>(reader);
        return new BlockTruth
        {
            ThicknessMetres = thickness,
            MinimumMetres = minimum,
            BoundsMetres = bounds,
            Cluster = cluster,
            Planted = planted,
            VelocityMetresPerSecond = double.IsNaN(facts[0]) ? null : facts[0],
            FrequencyHz = double.IsNaN(facts[1]) ? null : facts[1],
        };
    }

    /// <summary>What a method made of a block; null when it is not there or damaged.</summary>
    /// <param name="name">Its name.</param>
    public MethodResult? ReadResult(string name) =>
        Read(name) is { } reader
            ? new MethodResult(
                Take<float>(reader),
                Take<float>(reader),
                Take<float>(reader),
                Take<float>(reader),
                Take<byte>(reader)
            )
            : null;

    /// <summary>How long measuring a block took, seconds; NaN when not known.</summary>
    /// <param name="name">Name of the result.</param>
    public double ReadSeconds(string name)
    {
        string path = TimePath(name);
        return
            File.Exists(path)
            && double.TryParse(
                File.ReadAllText(path),
                NumberStyles.Float,
                CultureInfo.InvariantCulture,
                out double seconds
            )
            ? seconds
            : double.NaN;
    }

    private string PathOf(string name) => Path.Combine(_folder, name + ".unit");

    private string TimePath(string name) => Path.Combine(_folder, name + ".time");

    private void Write(string name, Action<BinaryWriter> content)
    {
        using var buffer = new MemoryStream();
        using (var writer = new BinaryWriter(buffer, Encoding.UTF8, leaveOpen: true))
        {
            writer.Write(Magic);
            content(writer);
        }
        byte[] bytes = buffer.ToArray();
        using AtomicFile file = AtomicFile.Create(PathOf(name));
        RandomAccess.Write(file.Handle, bytes, 0);
        RandomAccess.Write(file.Handle, SHA256.HashData(bytes), bytes.Length);
        file.Commit(flushToDisk: false);
    }

    private BinaryReader? Read(string name)
    {
        string path = PathOf(name);
        if (!File.Exists(path))
            return null;
        byte[] bytes = File.ReadAllBytes(path);
        int length = bytes.Length - SHA256.HashSizeInBytes;
        if (
            length < Magic.Length
            || !bytes.AsSpan(0, Magic.Length).SequenceEqual(Magic)
            || !SHA256.HashData(bytes.AsSpan(0, length)).AsSpan().SequenceEqual(bytes.AsSpan(length))
        )
            return null;
        return new BinaryReader(new MemoryStream(bytes, Magic.Length, length - Magic.Length));
    }

    private static void Put<T>(BinaryWriter writer, ReadOnlySpan<T> values)
        where T : unmanaged
    {
        writer.Write((byte)Marshal.SizeOf<T>());
        writer.Write((long)values.Length);
        writer.Write(MemoryMarshal.AsBytes(values));
    }

    private static T[] Take<T>(BinaryReader reader)
        where T : unmanaged
    {
        int size = reader.ReadByte();
        long count = reader.ReadInt64();
        var values = new T[count];
        if (size != Marshal.SizeOf<T>())
            throw new InvalidOperationException("A unit of this build holds arrays of another type.");
        reader.BaseStream.ReadExactly(MemoryMarshal.AsBytes(values.AsSpan()));
        return values;
    }
}
