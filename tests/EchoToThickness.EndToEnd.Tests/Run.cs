using EchoToThickness.Cli.Terminal;

namespace EchoToThickness.EndToEnd.Tests;

/// <summary>The program run inside the test process, with its two streams kept apart.</summary>
internal sealed record Run(int Code, string Data, string Words)
{
    public static Run Of(params string[] arguments) => With(arguments, CancellationToken.None);

    public static Run With(string[] arguments, CancellationToken cancellation)
    {
        using var data = new StringWriter { NewLine = "\n" };
        using var words = new StringWriter { NewLine = "\n" };
        int code = CommandLineProgram.Run(arguments, new Talk(data, words, IsTerminal: false), cancellation);
        return new Run(code, data.ToString(), words.ToString());
    }
}
