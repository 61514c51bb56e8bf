namespace EchoToThickness.Studies.Sources;

/// <summary>One coordinate of a point: a swept key and its value.</summary>
/// <param name="Key">Key of the plate or scene; <c>stack</c> for the file of a stored stack.</param>
/// <param name="Text">Value as the study writes it.</param>
/// <param name="Number">Value in SI units (decibels, fractions, metres, hertz ...); NaN when it is no number.</param>
public sealed record SweepValue(string Key, string Text, double Number);
