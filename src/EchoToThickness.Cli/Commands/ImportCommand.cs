using System.CommandLine;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Storage.Native;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett import</c>.</summary>
internal static class ImportCommand
{
    public static ToolCommand Create(Talk talk, CancellationToken cancellation)
    {
        var inputs = new StackInputs();
        var output = new Option<string>("--output", "-o")
        {
            Description = "Native stack file to write (HDF5).",
            HelpName = "FILE",
            Required = true,
        };
        var contiguous = new Option<bool>("--contiguous")
        {
            Description = "Store samples without compression: larger, and faster to measure.",
        };
        var force = new Option<bool>("--force") { Description = "Replace the file if it exists." };
        var command = new ToolCommand("import", "Convert a foreign file to a native stack, streaming.")
        {
            Details =
                "Measuring needs no import: a layout map is enough. A native stack carries its facts with it and checksums its samples. "
                + "Truth and masks that the layout map names are copied too. An existing file is kept unless --force is given.",
            Examples = [("ett import raw.h5 -l layout.toml -o scan.h5", "One file that explains itself.")],
        };
        inputs.AddTo(command);
        command.Add(output);
        command.Add(contiguous);
        command.Add(force);
        command.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(output);
            Files.CanWrite(path, [], parsed.GetRequiredValue(inputs.Stack), parsed.GetValue(inputs.Layout));
            if (File.Exists(path) && !parsed.GetValue(force))
                throw new UserException($"{path} exists.", "choose another name, or add --force to replace it.");
            using StackLines lines = inputs.Open(parsed);
            var options = new StackWriterOptions
            {
                Packing = parsed.GetValue(contiguous) ? StackPacking.Contiguous : StackPacking.Deflate,
            };
            using (var progress = new ProgressLine(talk, "importing"))
            {
                double cellsPerScan = (double)lines.Cells / lines.Sum(l => l.Source.Info.Shape.Scans);
                StackImporter.Import([.. lines], path, options, new Reporter(progress, cellsPerScan), cancellation);
            }
            talk.Say($"{path}: {StatusWords.Count(lines.Cells)} A-scans in {lines.Count} scan line(s).");
            return ExitCode.Done;
        });
        return command;
    }

    private sealed class Reporter(ProgressLine line, double cellsPerScan) : IProgress<ImportProgress>
    {
        public void Report(ImportProgress value) =>
            line.Report((long)(value.ScansDone * cellsPerScan), (long)(value.ScansTotal * cellsPerScan));
    }
}
