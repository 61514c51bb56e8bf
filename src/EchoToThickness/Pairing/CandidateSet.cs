using System.Numerics;

namespace EchoToThickness.Pairing;

/// <summary>A set of candidates of one A-scan, by index 0 to 31.</summary>
/// <param name="Bits">One bit a candidate.</param>
public readonly record struct CandidateSet(uint Bits)
{
    /// <summary>No candidate.</summary>
    public static CandidateSet Empty => default;

    /// <summary>Number of members.</summary>
    public int Count => BitOperations.PopCount(Bits);

    /// <summary>Whether there is no member.</summary>
    public bool IsEmpty => Bits == 0;

    /// <summary>Whether a candidate is a member.</summary>
    /// <param name="candidate">Index of the candidate.</param>
    public bool Contains(int candidate) => (Bits >> candidate & 1) != 0;

    /// <summary>The set with a candidate added.</summary>
    /// <param name="candidate">Index of the candidate.</param>
    public CandidateSet With(int candidate) => new(Bits | 1u << candidate);

    /// <summary>Members of either set.</summary>
    /// <param name="other">Another set.</param>
    public CandidateSet Union(CandidateSet other) => new(Bits | other.Bits);

    /// <summary>Members of this set that are not in the other.</summary>
    /// <param name="other">Another set.</param>
    public CandidateSet Except(CandidateSet other) => new(Bits & ~other.Bits);
}
