using EchoToThickness.Stacks;
using EchoToThickness.Stacks.Sanity;

namespace EchoToThickness.Storage.Describe;

/// <summary>One line of a stack that could be opened.</summary>
/// <param name="Name">Name of the line; empty for the only one.</param>
/// <param name="Info">What is known of it.</param>
/// <param name="TruthLayers">Truth layers it carries.</param>
/// <param name="Missing">Facts that nobody stated, with what they are needed for.</param>
/// <param name="Sanity">What its samples look like.</param>
public sealed record DescribedLine(
    string Name,
    StackInfo Info,
    IReadOnlyList<string> TruthLayers,
    IReadOnlyList<string> Missing,
    SanityReport Sanity
);
