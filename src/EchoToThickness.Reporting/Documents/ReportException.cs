namespace EchoToThickness.Reporting.Documents;

/// <summary>A report cannot be made from what was given; the message says what, where and how to fix it.</summary>
public sealed class ReportException : Exception
{
    /// <summary>Makes the message.</summary>
    /// <param name="what">What is wrong.</param>
    /// <param name="where">File and place in it.</param>
    /// <param name="remedy">What the user can do.</param>
    /// <param name="cause">What was thrown below; may be null.</param>
    public ReportException(string what, string where, string remedy, Exception? cause = null)
        : base($"{what} Where: {where}. To fix: {remedy}", cause) { }
}
