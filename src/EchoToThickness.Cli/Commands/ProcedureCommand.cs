using System.CommandLine;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Procedures;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett procedure check | show | reference</c>.</summary>
internal static class ProcedureCommand
{
    public static ToolCommand Create(Talk talk) =>
        new("procedure", "Check, complete or look up procedure files.")
        {
            Details =
                "A procedure is a TOML file that decides everything about how a stack becomes a grid. Every quantity carries its unit "
                + "(\"8.6 mm\", \"0.25 us\", \"7 MHz\"). What the file leaves out has a documented default.",
            Subcommands = { Check(talk), Show(talk), Reference(talk) },
        };

    private static ToolCommand Check(Talk talk)
    {
        var file = new Argument<string>("PROCEDURE") { Description = "Procedure file (TOML)." };
        var command = new ToolCommand("check", "Read a procedure and report every fault in it.")
        {
            Details = "Exit code 0 when the procedure can be used, 2 when it cannot.",
            Examples = [("ett procedure check bend.toml", "Say nothing worse than 'can be used'.")],
        };
        command.Add(file);
        command.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(file);
            Procedure procedure = Files.ReadProcedure(path);
            Files.About(
                path,
                () =>
                {
                    ProcedureCheck.ThrowIfUnused(procedure);
                    return procedure;
                }
            );
            talk.Data.WriteLine(
                $"{path}: can be used ('{procedure.Header.Name}', SHA-256 {ProcedureText.Sha256(procedure)})"
            );
            return ExitCode.Done;
        });
        return command;
    }

    private static ToolCommand Show(Talk talk)
    {
        var file = new Argument<string?>("PROCEDURE")
        {
            Description = "Procedure file; left out: the defaults.",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var bare = new Option<bool>("--bare") { Description = "Without the comments that explain each key." };
        var command = new ToolCommand("show", "Print a procedure complete with every default, as a procedure file.")
        {
            Examples =
            [
                ("ett procedure show > mine.toml", "Start a procedure of your own from the defaults."),
                ("ett procedure show --bare bend.toml", "What a file means, in full."),
            ],
        };
        command.Add(file);
        command.Add(bare);
        command.SetAction(parsed =>
        {
            Procedure procedure = Files.ReadProcedure(parsed.GetValue(file));
            talk.Data.Write(ProcedureText.Write(procedure, withComments: !parsed.GetValue(bare)));
            return ExitCode.Done;
        });
        return command;
    }

    private static ToolCommand Reference(Talk talk)
    {
        var command = new ToolCommand(
            "reference",
            "Print the page that explains every key, with units, limits and defaults."
        )
        {
            Examples = [("ett procedure reference | less", "Read it in the terminal.")],
        };
        command.SetAction(_ =>
        {
            talk.Data.Write(ReferencePage.OfProcedure());
            return ExitCode.Done;
        });
        return command;
    }
}
