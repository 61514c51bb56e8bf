using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>Whether stored times count the way there and back or one way only.</summary>
public enum StoredPath
{
    /// <summary>There and back, as the receiver sees it.</summary>
    [Choice("full", "Times count the way there and back.")]
    Full,

    /// <summary>One way: times are doubled on reading.</summary>
    [Choice("half", "Times count one way; start and interval are doubled on reading.")]
    Half,
}
