using System.CommandLine;
using EchoToThickness.Cli.Terminal;

namespace EchoToThickness.Cli.Commands;

/// <summary>Options that several commands have, described once.</summary>
internal static class Shared
{
    public static Option<string?> Procedure() =>
        new("--procedure", "-p") { Description = "Procedure file (TOML); left out: the defaults.", HelpName = "FILE" };

    public static Option<double?> Limit() =>
        new("--limit")
        {
            Description = "Wall in millimetres below which the map draws an outline.",
            HelpName = "MM",
            CustomParser = Numbers.Decimal(0, 1000),
        };
}
