using System.Security.Cryptography;
using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Studies.Tune;

/// <summary>
/// Scores measured so far, on disk and in memory: a file to which whole records are appended. What was written before an interruption is found
/// again; a record that is not whole counts as not there. One program at a time.
/// </summary>
/// <remarks>
/// Layout: the 8 bytes <c>ETTTUNE1</c>, then records: SHA-256 of everything that decides the score, length as 32-bit integer, score, first 8 bytes of the
/// SHA-256 of all of these.
/// </remarks>
public sealed class ScoreJournal : IDisposable
{
    private const int KeyBytes = 32;
    private const int CheckBytes = 8;
    private const int LongestRecord = 1 << 20;
    private static readonly byte[] Magic = "ETTTUNE1"u8.ToArray();
    private readonly Dictionary<string, byte[]> _scores = [];
    private readonly FileStream _file;
    private readonly Lock _lock = new();

    /// <summary>Opens a journal, or begins one.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="IOException">Another program has it open.</exception>
    public ScoreJournal(string path)
    {
        _file = new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None, 1 << 16);
        long good = ReadAll();
        if (good == 0)
        {
            _file.SetLength(0);
            _file.Write(Magic);
            good = Magic.Length;
        }
        _file.SetLength(good);
        _file.Position = good;
    }

    /// <summary>Scores held.</summary>
    public int Count => _scores.Count;

    /// <summary>Name of a score: everything that decides it.</summary>
    /// <param name="context">Point, block, window, limits.</param>
    /// <param name="procedureSha256">Identity of the rule set.</param>
    internal static string NameOf(string context, string procedureSha256) =>
        ContentHash.Of(context + "\n" + procedureSha256);

    /// <summary>Whether a score is there.</summary>
    /// <param name="name">Its name.</param>
    public bool Holds(string name)
    {
        lock (_lock)
            return _scores.ContainsKey(name);
    }

    /// <summary>Reads a score; null when it is not there.</summary>
    /// <param name="name">Its name.</param>
    public WindowScore? Read(string name)
    {
        byte[]? bytes;
        lock (_lock)
            if (!_scores.TryGetValue(name, out bytes))
                return null;
        using var reader = new BinaryReader(new MemoryStream(bytes));
        return WindowScore.Read(reader);
    }

    /// <summary>Keeps a score.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="score">The score.</param>
    public void Write(string name, WindowScore score)
    {
        ArgumentNullException.ThrowIfNull(score);
        using var memory = new MemoryStream();
        using (var writer = new BinaryWriter(memory, System.Text.Encoding.UTF8, leaveOpen: true))
            score.Write(writer);
        byte[] bytes = memory.ToArray();
        byte[] record = [.. Convert.FromHexString(name), .. BitConverter.GetBytes(bytes.Length), .. bytes];
        lock (_lock)
        {
            if (!_scores.TryAdd(name, bytes))
                return;
            _file.Write(record);
            _file.Write(SHA256.HashData(record).AsSpan(0, CheckBytes));
        }
    }

    /// <summary>Hands everything to the system, so that it outlives the program.</summary>
    public void Flush()
    {
        lock (_lock)
            _file.Flush();
    }

    /// <inheritdoc/>
    public void Dispose() => _file.Dispose();

    private long ReadAll()
    {
        var magic = new byte[Magic.Length];
        if (_file.ReadAtLeast(magic, magic.Length, false) < magic.Length || !magic.AsSpan().SequenceEqual(Magic))
            return 0;
        long good = Magic.Length;
        var head = new byte[KeyBytes + sizeof(int)];
        while (_file.ReadAtLeast(head, head.Length, false) == head.Length)
        {
            int length = BitConverter.ToInt32(head, KeyBytes);
            if (length is < 0 or > LongestRecord)
                break;
            var rest = new byte[length + CheckBytes];
            if (_file.ReadAtLeast(rest, rest.Length, false) < rest.Length)
                break;
            byte[] check = SHA256.HashData([.. head, .. rest.AsSpan(0, length)]);
            if (!check.AsSpan(0, CheckBytes).SequenceEqual(rest.AsSpan(length)))
                break;
            _scores[Convert.ToHexStringLower(head.AsSpan(0, KeyBytes))] = rest[..length];
            good += head.Length + rest.Length;
        }
        return good;
    }
}
