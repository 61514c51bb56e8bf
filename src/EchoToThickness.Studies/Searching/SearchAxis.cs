namespace EchoToThickness.Studies.Searching;

/// <summary>
/// One axis of a space that is searched: a number from 0 to 1, such a number on even levels, or one of some words without order. A place on an
/// axis of words is the number of the word.
/// </summary>
/// <param name="Name">Name in tables.</param>
/// <param name="Words">Number of words; 0 for a number.</param>
/// <param name="Levels">Even levels of a number, ends included; 0 for any number.</param>
public sealed record SearchAxis(string Name, int Words = 0, int Levels = 0)
{
    /// <summary>Whether the axis holds words.</summary>
    public bool IsChoice => Words > 0;

    /// <summary>Places on the axis; 0 when there is no end of them.</summary>
    public int Places => IsChoice ? Words : Levels;

    /// <summary>The place on the axis that stands for a number from 0 to 1, spread evenly.</summary>
    /// <param name="part">0 to 1.</param>
    public double PlaceAt(double part) =>
        Places == 0 ? Math.Clamp(part, 0, 1)
        : IsChoice ? Math.Clamp((int)(part * Words), 0, Words - 1)
        : LevelAt(Math.Clamp((int)(part * Levels), 0, Levels - 1));

    /// <summary>The nearest place on the axis.</summary>
    /// <param name="place">Any number.</param>
    public double Snap(double place) =>
        IsChoice ? Math.Clamp(Math.Round(place), 0, Words - 1)
        : Levels == 0 ? Math.Clamp(place, 0, 1)
        : LevelAt((int)Math.Round(Math.Clamp(place, 0, 1) * (Levels - 1)));

    /// <summary>A level of a number, or a word.</summary>
    /// <param name="number">From 0.</param>
    public double LevelAt(int number) =>
        IsChoice ? number
        : Levels > 1 ? (double)number / (Levels - 1)
        : 0;
}
