using EchoToThickness.Cli.Terminal;

namespace EchoToThickness.Cli;

internal static class Program
{
    private static int Main(string[] arguments)
    {
        using var interrupt = new Interrupt();
        return CommandLineProgram.Run(arguments, Talk.OfProcess(), interrupt.Token);
    }
}
