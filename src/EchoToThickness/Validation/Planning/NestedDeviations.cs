namespace EchoToThickness.Validation.Planning;

/// <summary>Standard deviations of the parts of an error, expected before a study or taken from a pilot.</summary>
/// <param name="Blocks">Between blocks.</param>
/// <param name="Features">Between features of a block.</param>
/// <param name="Placements">Between placements of a feature.</param>
/// <param name="Readings">Between readings of a placement.</param>
public sealed record NestedDeviations(double Blocks, double Features, double Placements, double Readings);
