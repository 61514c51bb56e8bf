using System.Diagnostics.CodeAnalysis;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace EchoToThickness.Pairing;

/// <summary>One explanation of an A-scan: which candidate is the interface, which are back-wall echoes 1, 2, 3 ..., and how well it fits.</summary>
public struct TrainHypothesis
{
    /// <summary>Value of <see cref="Interface"/> when the train was found without one.</summary>
    public const int NoInterface = -1;

    /// <summary>Most members of a train.</summary>
    public const int MaximumMembers = 12;

    private MemberArray _members;

    /// <summary>Candidate taken for the interface; <see cref="NoInterface"/> when the first strong echo is itself a wall.</summary>
    public int Interface;

    /// <summary>Strongest member that cannot be a couplant echo; the others are compared with it.</summary>
    public int Reference;

    /// <summary>Spacing of the train, samples.</summary>
    public double SpacingSamples;

    /// <summary>Sum of everything that speaks for and against it; the highest wins.</summary>
    public double Score;

    /// <summary>Echoes found, each relative to the strongest wall-like echo.</summary>
    public double Support;

    /// <summary>Echoes expected and not found.</summary>
    public double Missing;

    /// <summary>Strength of unexplained echoes in front of its first wall.</summary>
    public double Early;

    /// <summary>Strength of unexplained echoes behind its first wall.</summary>
    public double Late;

    /// <summary>Candidates that may be echoes of the wall, given the interface.</summary>
    public CandidateSet Walls;

    /// <summary>Candidates that lie where the couplant layer echoes, given the interface.</summary>
    public CandidateSet Couplant;

    /// <summary>Those of <see cref="Couplant"/> that are too strong, with the interface's polarity, to be anything else.</summary>
    public CandidateSet SurelyCouplant;

    /// <summary>Number of members.</summary>
    public int MemberCount { get; private set; }

    /// <summary>The members in order.</summary>
    [UnscopedRef]
    public readonly ReadOnlySpan<TrainMember> Members =>
        MemoryMarshal.CreateReadOnlySpan(
            in Unsafe.As<MemberArray, TrainMember>(ref Unsafe.AsRef(in _members)),
            MemberCount
        );

    /// <summary>The first back-wall echo.</summary>
    public readonly TrainMember First => _members[0];

    /// <summary>Whether a single echo carries the hypothesis.</summary>
    public readonly bool IsSingle => MemberCount == 1;

    /// <summary>The members as a set.</summary>
    public readonly CandidateSet MemberSet
    {
        get
        {
            CandidateSet set = CandidateSet.Empty;
            for (int k = 0; k < MemberCount; k++)
                set = set.With(_members[k].Candidate);
            return set;
        }
    }

    /// <summary>Adds a member; beyond <see cref="MaximumMembers"/> nothing is added.</summary>
    /// <param name="member">The member.</param>
    public void Add(TrainMember member)
    {
        if (MemberCount < MaximumMembers)
            _members[MemberCount++] = member;
    }

    /// <summary>Removes all members.</summary>
    public void ClearMembers() => MemberCount = 0;

    [InlineArray(MaximumMembers)]
    private struct MemberArray
    {
        private TrainMember _first;
    }
}
