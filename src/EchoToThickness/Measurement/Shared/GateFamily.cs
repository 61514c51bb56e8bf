using EchoToThickness.Conditioning;
using EchoToThickness.Evidence;
using EchoToThickness.Gating;
using EchoToThickness.Grids;
using EchoToThickness.InterfaceSync;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement.Shared;

/// <summary>
/// The general gate engine for many plans: a tree of conditioning, interface, gates and pairing, each node worked once an A-scan. Does for each plan
/// what <see cref="GateMeasurer"/> does. One a thread; allocates nothing per A-scan.
/// </summary>
internal sealed class GateFamily
{
    private readonly Conditioned[] _conditioned;
    private readonly NeighbourAxes _neighbours;

    public GateFamily(
        IReadOnlyList<MeasurementPlan> plans,
        IReadOnlyList<int> members,
        KernelPath path,
        MeasurementGeometry geometry
    )
    {
        _neighbours = plans[0].Stack.Neighbours;
        _conditioned =
        [
            .. members
                .GroupBy(i => plans[i].Procedure.Conditioning)
                .Select(same =>
                {
                    StackInfo stack = plans[0].Stack;
                    var conditioner = new AScanConditioner(stack, same.Key, path);
                    return new Conditioned(
                        conditioner,
                        [
                            .. same.GroupBy(i => plans[i].Procedure.Interface)
                                .Select(alike => Find(plans, alike, conditioner, geometry)),
                        ]
                    );
                }),
        ];
    }

    private static Found Find(
        IReadOnlyList<MeasurementPlan> plans,
        IGrouping<InterfaceSettings, int> members,
        AScanConditioner conditioner,
        MeasurementGeometry geometry
    )
    {
        var finder = new InterfaceFinder(plans[0].Stack, members.Key, conditioner);
        return new Found(
            finder,
            members.Key,
            geometry.Tracked ? new InterfaceStrip(geometry.StripCapacity, geometry.Beams) : null,
            [
                .. members
                    .GroupBy(i => (GatesOf(plans[i].Procedure), plans[i].Velocity.MetresPerSecond))
                    .Select(alike =>
                    {
                        int first = alike.First();
                        var gates = new GateEvaluator(
                            plans[first].Stack,
                            plans[first].Procedure.Gates,
                            plans[first].Velocity.MetresPerSecond,
                            conditioner
                        );
                        return new Gated(gates, [.. alike.Select(i => Pair(i, plans[i], conditioner, finder, gates))]);
                    }),
            ]
        );
    }

    private static Leaf Pair(
        int number,
        MeasurementPlan plan,
        AScanConditioner conditioner,
        InterfaceFinder finder,
        GateEvaluator gates
    )
    {
        ProcedureCheck.ThrowIfInconsistent(plan.Procedure);
        var pairing = new GatePairing(plan.Procedure, plan.Stack, plan.Velocity, conditioner, gates);
        return new Leaf(number, pairing, new GateUncertainty(plan, conditioner, finder, gates, pairing));
    }

    // Text, because the list of points of a level has no equality of its own.
    private static string GatesOf(Procedure procedure) =>
        ProcedureText.Write(new Procedure { Gates = procedure.Gates });

    /// <summary>Places the strips of a tracked pass.</summary>
    public void BeginTracking(int firstScan, int scanCount)
    {
        foreach (Conditioned conditioned in _conditioned)
        foreach (Found found in conditioned.Interfaces)
            found.Strip!.Place(firstScan, scanCount);
    }

    /// <summary>Finds the interface candidates of a rectangle.</summary>
    public void FindInterfaces(in AScanBlock block, int firstScan, int scanCount, int firstBeam, int beamCount)
    {
        Span<InterfaceCandidate> kept = stackalloc InterfaceCandidate[InterfaceStrip.CandidatesPerCell];
        for (int scan = firstScan; scan < firstScan + scanCount; scan++)
        for (int beam = firstBeam; beam < firstBeam + beamCount; beam++)
            foreach (Conditioned conditioned in _conditioned)
            {
                bool ready = conditioned.Conditioner.Condition(block, scan, beam) == AScanCondition.Ready;
                foreach (Found found in conditioned.Interfaces)
                {
                    int count = ready ? GateMeasurer.Candidates(found.Finder, beam, kept) : 0;
                    found.Strip!.SetCandidates(scan, beam, kept[..count]);
                }
            }
    }

    /// <summary>Lets neighbours decide on the interfaces of the strips.</summary>
    public void Track()
    {
        foreach (Conditioned conditioned in _conditioned)
        foreach (Found found in conditioned.Interfaces)
            InterfaceTracker.Track(found.Strip!, _neighbours, found.Settings);
    }

    /// <summary>Measures the rectangle on which the tiles are placed.</summary>
    public void Measure(in AScanBlock block, GridTile[] tiles)
    {
        GridTile place = tiles[_conditioned[0].Interfaces[0].Gates[0].Leaves[0].Plan];
        int index = 0;
        for (int scan = place.FirstScan; scan < place.FirstScan + place.ScanCount; scan++)
        for (int beam = place.FirstBeam; beam < place.FirstBeam + place.BeamCount; beam++, index++)
            foreach (Conditioned conditioned in _conditioned)
            {
                AScanCondition condition = conditioned.Conditioner.Condition(block, scan, beam);
                foreach (Found found in conditioned.Interfaces)
                    Measure(condition, found, scan, beam, tiles, index);
            }
    }

    private static void Measure(AScanCondition condition, Found node, int scan, int beam, GridTile[] tiles, int index)
    {
        InterfaceEcho found =
            condition != AScanCondition.Ready ? InterfaceEcho.None
            : node.Strip is not { } strip ? node.Finder.Find(beam)
            : node.Finder.Take(beam, strip.ChosenSeconds(scan, beam), strip.IsTracked(scan, beam));
        foreach (Gated gated in node.Gates)
        {
            ReadOnlySpan<GateOutcome> outcomes =
                condition == AScanCondition.Ready ? gated.Evaluator.Evaluate(beam, found) : default;
            foreach (Leaf leaf in gated.Leaves)
            {
                CellResult cell;
                if (condition == AScanCondition.Ready)
                {
                    cell = leaf.Pairing.Pair(found, outcomes);
                    leaf.Uncertainty.Fill(found, outcomes, ref cell);
                }
                else
                {
                    cell = CellResult.Unmeasured(
                        condition == AScanCondition.NotScanned ? CellStatus.NotScanned : CellStatus.InvalidSamples
                    );
                }
                tiles[leaf.Plan].Set(index, cell);
            }
        }
    }

    private sealed record Conditioned(AScanConditioner Conditioner, Found[] Interfaces);

    private sealed record Found(
        InterfaceFinder Finder,
        InterfaceSettings Settings,
        InterfaceStrip? Strip,
        Gated[] Gates
    );

    private sealed record Gated(GateEvaluator Evaluator, Leaf[] Leaves);

    private sealed record Leaf(int Plan, GatePairing Pairing, GateUncertainty Uncertainty);
}
