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

    public static Option<int> StudyThreads() =>
        new("--threads", "-j")
        {
            Description = "Worker threads; results do not depend on it. Left out: one a processor.",
            HelpName = "N",
            CustomParser = Numbers.Whole(1, 1024),
        };

    public static Option<bool> CheckStudy() =>
        new("--check") { Description = "Only read the study and say what it would do." };

    public static Option<bool> Quiet() => new("--quiet", "-q") { Description = "No progress and no talk." };
}
