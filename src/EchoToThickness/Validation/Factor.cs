using EchoToThickness.Statistics;

namespace EchoToThickness.Validation;

/// <summary>A named column of levels, one of each observation: operator, day, block, feature, zone.</summary>
public sealed class Factor
{
    private readonly int[] _codes;
    private readonly string[] _levels;

    /// <summary>Makes a factor; levels are numbered in the order in which they first appear.</summary>
    /// <param name="name">Name, for tables.</param>
    /// <param name="levelOfEach">Shape [observation].</param>
    /// <exception cref="StatisticsException">A level is missing.</exception>
    public Factor(string name, IReadOnlyList<string> levelOfEach)
    {
        ArgumentNullException.ThrowIfNull(name);
        ArgumentNullException.ThrowIfNull(levelOfEach);
        Name = name;
        var known = new Dictionary<string, int>(StringComparer.Ordinal);
        _codes = new int[levelOfEach.Count];
        for (int i = 0; i < _codes.Length; i++)
        {
            string level =
                levelOfEach[i]
                ?? throw new StatisticsException(
                    "A level is missing.",
                    $"factor {name}, observation {i}",
                    "give every observation a level."
                );
            if (!known.TryGetValue(level, out int code))
                known.Add(level, code = known.Count);
            _codes[i] = code;
        }
        _levels = known.OrderBy(pair => pair.Value).Select(pair => pair.Key).ToArray();
    }

    /// <summary>Name.</summary>
    public string Name { get; }

    /// <summary>Level numbers, shape [observation].</summary>
    public ReadOnlySpan<int> Codes => _codes;

    /// <summary>Level names in order of their numbers.</summary>
    public IReadOnlyList<string> Levels => _levels;

    /// <summary>Number of observations.</summary>
    public int Count => _codes.Length;

    /// <summary>Every combination of two factors that occurs, as one factor: an interaction, or an inner factor within an outer one.</summary>
    /// <param name="first">Outer factor.</param>
    /// <param name="second">Inner factor, as long.</param>
    public static Factor Cross(Factor first, Factor second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        if (first.Count != second.Count)
            throw new ArgumentException("Factors of different length.", nameof(second));
        var names = new string[first.Count];
        for (int i = 0; i < names.Length; i++)
            names[i] = first._levels[first._codes[i]] + " × " + second._levels[second._codes[i]];
        return new Factor(first.Name + " × " + second.Name, names);
    }
}
