using System.Reflection;
using System.Runtime.InteropServices;
using EchoToThickness.Cli.Terminal;

namespace EchoToThickness.Cli.Commands;

/// <summary><c>ett version</c>.</summary>
internal static class VersionCommand
{
    /// <summary>The program's version, as grids record it.</summary>
    public static string Version { get; } =
        typeof(VersionCommand)
            .Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()
            ?.InformationalVersion
        ?? "0";

    public static ToolCommand Create(Talk talk)
    {
        var command = new ToolCommand("version", "Print the version of the program and of the runtime under it.");
        command.SetAction(_ =>
        {
            talk.Data.WriteLine($"{CommandLineProgram.Name} {Version}");
            talk.Data.WriteLine($"{RuntimeInformation.FrameworkDescription}, {RuntimeInformation.RuntimeIdentifier}");
            return ExitCode.Done;
        });
        return command;
    }
}
