namespace EchoToThickness.Cli.Terminal;

/// <summary>A command cannot run with what it was given; the message says what, where and how to fix it.</summary>
public sealed class UserException : Exception
{
    /// <summary>Makes the message.</summary>
    /// <param name="what">What is wrong.</param>
    /// <param name="remedy">What the user can do.</param>
    public UserException(string what, string remedy)
        : base($"{what} To fix: {remedy}") { }
}
