using System.Globalization;

namespace EchoToThickness.Bench;

/// <summary>Command line of the end-to-end benchmark.</summary>
internal sealed record BenchOptions
{
    public const string Usage = """
        EchoToThickness.Bench FILE PROCEDURE [options]

          FILE            stack; with --layout any HDF5 file
          PROCEDURE       procedure (TOML)
          --layout MAP    layout map
          --repeat N      passes in this process, 21 unless said otherwise
          --threads N     worker threads, 2 unless said otherwise
          --portable      kernels without Vector512
          --hash          the SHA-256 of the stack in every pass, beside the work
          --fsync         flush the grid to the disk in every pass
          --out GRID      grid written in every pass; a temporary file unless said otherwise

        The last line printed is JSON: times in seconds from file open to grid written.
        """;

    public required string File { get; init; }
    public required string Procedure { get; init; }
    public string? Layout { get; init; }
    public int Repeat { get; init; } = 21;
    public int Threads { get; init; } = 2;
    public bool Portable { get; init; }
    public bool Hash { get; init; }
    public bool Flush { get; init; }
    public string? Out { get; init; }

    /// <summary>Reads the command line.</summary>
    /// <param name="args">Arguments.</param>
    /// <exception cref="ArgumentException">What is wrong, and the usage.</exception>
    public static BenchOptions Parse(string[] args)
    {
        var files = new List<string>();
        var options = new BenchOptions { File = "", Procedure = "" };
        for (int i = 0; i < args.Length; i++)
        {
            string Value() =>
                i + 1 < args.Length ? args[++i] : throw new ArgumentException($"{args[i]} needs a value.\n\n{Usage}");
            int Number() =>
                int.TryParse(Value(), NumberStyles.None, CultureInfo.InvariantCulture, out int n) && n > 0
                    ? n
                    : throw new ArgumentException($"'{args[i]}' is not a positive number.\n\n{Usage}");
            switch (args[i])
            {
                case "--layout":
                    options = options with { Layout = Value() };
                    break;
                case "--repeat":
                    options = options with { Repeat = Number() };
                    break;
                case "--threads":
                    options = options with { Threads = Number() };
                    break;
                case "--portable":
                    options = options with { Portable = true };
                    break;
                case "--hash":
                    options = options with { Hash = true };
                    break;
                case "--fsync":
                    options = options with { Flush = true };
                    break;
                case "--out":
                    options = options with { Out = Value() };
                    break;
                case string file when !file.StartsWith('-'):
                    files.Add(file);
                    break;
                default:
                    throw new ArgumentException($"There is no option '{args[i]}'.\n\n{Usage}");
            }
        }
        if (files.Count != 2)
            throw new ArgumentException(Usage);
        return options with { File = files[0], Procedure = files[1] };
    }
}
