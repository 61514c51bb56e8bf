using System.CommandLine;
using System.ComponentModel;
using System.Diagnostics;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Workbench;
using EchoToThickness.Workbench.Sessions;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett workbench</c>. Kept apart, so that no other command loads the web server.</summary>
internal static class WorkbenchCommand
{
    public static ToolCommand Create(Talk talk, CancellationToken cancellation)
    {
        var inputs = new StackInputs();
        Option<string?> procedure = Shared.Procedure();
        var grid = new Option<string?>("--grid", "-g")
        {
            Description = "Grid measured earlier from this stack, to compare with.",
            HelpName = "GRID",
        };
        var port = new Option<int>("--port")
        {
            Description = "Port on the loopback address; left out: any that is free.",
            HelpName = "N",
            CustomParser = Numbers.Whole(0, 65535),
        };
        var memory = new Option<int>("--memory")
        {
            Description =
                "Keep the samples in memory when they take no more than this; larger stacks are read from the disk each time.",
            HelpName = "MB",
            CustomParser = Numbers.Whole(0, 1 << 20),
            DefaultValueFactory = _ => 1024,
        };
        var noBrowser = new Option<bool>("--no-browser") { Description = "Print the address only; open no browser." };
        var command = new ToolCommand("workbench", "Turn rules in the browser and see the whole map answer.")
        {
            Details =
                "Serves a page on this machine's loopback address and prints its URL, which holds a secret: whoever has it may read the stack "
                + "and write procedure files (.toml) in the folder of the procedure, else of the stack. Nothing else is written, nobody else is "
                + "let in. Ctrl+C stops it. What the page saves is a procedure for 'measure' and 'explain'; docs/workbench.md shows it.",
            Examples =
            [
                ("ett workbench scan.h5", "The default procedure."),
                ("ett workbench scan.h5 -p bend.toml --grid grid.h5", "Your procedure, beside an earlier grid."),
                ("ett workbench scan.h5 --no-browser --port 8123", "On a known port; open the printed URL yourself."),
            ],
        };
        inputs.AddTo(command);
        foreach (Option option in new Option[] { procedure, grid, port, memory, noBrowser })
            command.Add(option);
        command.SetAction(parsed =>
        {
            var options = new WorkbenchOptions
            {
                StackPath = parsed.GetRequiredValue(inputs.Stack),
                LayoutPath = parsed.GetValue(inputs.Layout),
                Line = parsed.GetValue(inputs.Line),
                ProcedurePath = parsed.GetValue(procedure),
                GridPath = parsed.GetValue(grid),
                Port = parsed.GetValue(port),
                MemoryBytes = (long)parsed.GetValue(memory) << 20,
                ProgramVersion = VersionCommand.Version,
            };
            Run(options, !parsed.GetValue(noBrowser), talk, cancellation);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Run(WorkbenchOptions options, bool openBrowser, Talk talk, CancellationToken cancellation)
    {
        _ = Files.ReadProcedure(options.ProcedurePath);
        using (StackLines.Open(options.StackPath, options.LayoutPath, options.Line)) { }
        if (options.GridPath is { } grid)
            Files.MustExist(grid, "grid");
        using WorkbenchSession session = Files.About(
            options.ProcedurePath,
            () => WorkbenchSession.Open(options, cancellation)
        );
        RunAsync(session, openBrowser, talk, cancellation).GetAwaiter().GetResult();
    }

    private static async Task RunAsync(
        WorkbenchSession session,
        bool openBrowser,
        Talk talk,
        CancellationToken cancellation
    )
    {
        WorkbenchServer server = await WorkbenchServer
            .StartAsync(session, error => talk.Say($"fault of the workbench: {error}"), cancellation)
            .ConfigureAwait(false);
        await using (server.ConfigureAwait(false))
        {
            talk.Data.WriteLine(server.Url);
            talk.Data.Flush();
            talk.Say(
                session.InMemory
                    ? "The samples are in memory. Ctrl+C stops the workbench."
                    : "The samples are read from the disk each time (see --memory). Ctrl+C stops the workbench."
            );
            if (openBrowser && !TryOpen(server.Url))
                talk.Say("No browser could be opened: open the URL yourself.");
            try
            {
                await Task.Delay(Timeout.Infinite, cancellation).ConfigureAwait(false);
            }
            catch (OperationCanceledException)
            {
                talk.Say("The workbench has stopped.");
            }
        }
    }

    private static bool TryOpen(Uri url)
    {
        try
        {
            using Process? process = Process.Start(
                new ProcessStartInfo { FileName = url.ToString(), UseShellExecute = true }
            );
            return true;
        }
        catch (Exception e) when (e is Win32Exception or InvalidOperationException or FileNotFoundException)
        {
            return false;
        }
    }
}
