using System.CommandLine;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Storage.Describe;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett describe</c>.</summary>
internal static class DescribeCommand
{
    public static ToolCommand Create(Talk talk, CancellationToken cancellation)
    {
        var file = new Argument<string>("FILE")
        {
            Description = "A native stack, any HDF5, .npy or raw file, or a folder of them.",
        };
        var layout = new Option<string?>("--layout", "-l")
        {
            Description = "Layout map to read it through; left out: one is proposed for a foreign file.",
            HelpName = "FILE",
        };
        var propose = new Option<string?>("--propose")
        {
            Description = "Write the proposed layout map to this file.",
            HelpName = "LAYOUT",
        };
        var command = new ToolCommand("describe", "Say what a file holds, and whether its samples look sound.")
        {
            Details =
                "Lists groups, datasets and facts; for a foreign file proposes a layout map and says what is missing; inspects the samples for "
                + "clipping, offset, noise, frequency, dead elements and the classic mistakes of units and axes. Exit code 1 when something "
                + "must be put right before measuring.",
            Examples =
            [
                ("ett describe scan.h5", "What is in a stack."),
                ("ett describe raw.h5 --propose layout.toml", "A first layout map for a foreign file."),
                ("ett describe raw.h5 -l layout.toml", "Whether the layout map reads it well."),
            ],
        };
        command.Add(file);
        command.Add(layout);
        command.Add(propose);
        command.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(file);
            if (!Directory.Exists(path))
                Files.MustExist(path, "stack");
            Files.IsNoGrid(path);
            string? layoutPath = parsed.GetValue(layout);
            if (layoutPath is not null)
                Files.MustExist(layoutPath, "layout");
            string? target = parsed.GetValue(propose);
            if (target is not null)
                Files.CanWrite(target, [], path, layoutPath);
            StackDescription description = StackDescriber.Describe(path, layoutPath, cancellation);
            talk.Data.Write(DescriptionText.Render(description));
            if (target is not null && description.ProposedLayout is { } proposal)
            {
                Files.WriteText(target, proposal);
                talk.Say($"The proposed layout map is in {target}.");
            }
            else if (target is not null)
            {
                talk.Say($"Nothing was written to {target}: there is no layout map to propose.");
            }
            return description.HasFaults ? ExitCode.CheckFailed : ExitCode.Done;
        });
        return command;
    }
}
