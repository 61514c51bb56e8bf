using EchoToThickness.Storage.Foreign;
using static System.FormattableString;

namespace EchoToThickness.Storage.Describe;

/// <summary>Guessed words of the axes of an array, with the reason.</summary>
/// <param name="Words">Words in file order.</param>
/// <param name="Reason">Evidence, for the comment.</param>
/// <param name="Shape">Extents in file order.</param>
internal sealed record AxisNames(IReadOnlyList<string> Words, string Reason, IReadOnlyList<long> Shape)
{
    /// <summary>Beams of a scan position where one axis counts cells; 0 otherwise.</summary>
    public int Beams { get; init; }

    /// <summary>Extent of a named axis; 1 when the array lacks it.</summary>
    public long Extent(string word)
    {
        int cell = Words.ToList().IndexOf("cell");
        if (cell >= 0 && word is "scan" or "beam")
            return word == "beam" ? Beams : Shape[cell] / Beams;
        int at = Words.ToList().IndexOf(word);
        return at < 0 ? 1 : Shape[at];
    }

    /// <summary>Extent of the cell axis; 0 when there is none.</summary>
    public long Cells => Beams == 0 ? 0 : Shape[Words.ToList().IndexOf("cell")];

    /// <summary>The same for an array in Fortran order, whose axes NumPy shows the other way round.</summary>
    public AxisNames TurnedOver() => new([.. Words.Reverse()], Reason, [.. Shape.Reverse()]);

    /// <summary>The same where a file of two axes is one scan position.</summary>
    public AxisNames WithBeams() => this with { Words = [.. Words.Select(w => w == "scan" ? "beam" : w)] };

    /// <summary>Guesses from the energy along each axis, and from the lengths of datasets named after an axis.</summary>
    /// <param name="store">The array.</param>
    /// <param name="lengths">Word of an axis and the length of a dataset whose name suggests it.</param>
    /// <param name="repeats">How often each encoder position of so many repeats in a row; 0 when none does.</param>
    public static AxisNames Guess(
        IArrayStore store,
        IReadOnlyList<(string Word, long Length)> lengths,
        Func<long, int> repeats
    )
    {
        int rank = store.Shape.Count;
        double[] spread = AxisGuess.Spread(store);
        double[] score = new double[rank];
        for (int axis = 0; axis < rank; axis++)
        {
            score[axis] = spread[axis];
            if (store.Shape[axis] == store.Shape.Max())
                score[axis] += 2;
            if (lengths.Any(l => l.Word == "sample" && l.Length == store.Shape[axis]))
                score[axis] += 6;
            if (store.Shape[axis] == 1)
                score[axis] = double.NegativeInfinity;
        }
        int sample = Array.IndexOf(score, score.Max());
        string[] words = new string[rank];
        Array.Fill(words, "single");
        words[sample] = "sample";
        int[] rest = [.. Enumerable.Range(0, rank).Where(i => i != sample && store.Shape[i] > 1)];
        bool Fits(string word, int axis) => lengths.Any(l => l.Word == word && l.Length == store.Shape[axis]);
        int beams = rest.Length == 1 ? repeats(store.Shape[rest[0]]) : 0;
        if (beams > 1)
        {
            words[rest[0]] = "cell";
        }
        else if (rest.Length == 1)
        {
            words[rest[0]] = Fits("beam", rest[0]) && !Fits("scan", rest[0]) ? "beam" : "scan";
        }
        else if (rest.Length == 2)
        {
            bool swapped =
                store.Shape[rest[0]] != store.Shape[rest[1]]
                && (Fits("beam", rest[0]) || Fits("scan", rest[1]))
                && !Fits("scan", rest[0])
                && !Fits("beam", rest[1]);
            words[rest[0]] = swapped ? "beam" : "scan";
            words[rest[1]] = swapped ? "scan" : "beam";
        }
        string reason =
            "energy varies by "
            + string.Join(", ", spread.Select(s => Invariant($"{s:0.0}")))
            + " dB along the axes; most along time";
        return new AxisNames(words, reason, store.Shape) { Beams = beams > 1 ? beams : 0 };
    }
}
