using EchoToThickness.Evidence;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement;

/// <summary>
/// Keeps what pass 1 found, so that a later run over the same stack whose pass 1 would find the same starts at pass 2: tracked
/// interfaces while only gates, pairing or walls change; hypotheses about every wall while only <c>[map]</c> changes. Procedures that look at no neighbour along the
/// scan have a single pass, and nothing is kept of them. Results are the same bytes with and without a store.
/// </summary>
/// <remarks>
/// Memory: about 90 bytes a cell for tracked interfaces, about 500 for hypotheses. One run at a time may use a store; the threads of that run share it. A store
/// belongs to one stack.
/// </remarks>
public sealed class EvidenceStore
{
    private const int InterfaceBytes = 90;
    private const int MapBytes = 500;
    private readonly IAScanSource _source;
    private readonly long _mostBytes;
    private string _key = "";

    /// <summary>Makes an empty store.</summary>
    /// <param name="source">The stack.</param>
    /// <param name="mostBytes">Nothing is kept when it would take about more than this.</param>
    public EvidenceStore(IAScanSource source, long mostBytes)
    {
        ArgumentNullException.ThrowIfNull(source);
        _source = source;
        _mostBytes = mostBytes;
    }

    internal InterfaceStrip?[] Interfaces { get; private set; } = [];

    internal MapStrip?[] Maps { get; private set; } = [];

    /// <summary>Prepares for a run: what an earlier one left stays when pass 1 would find the same again, else it is dropped.</summary>
    /// <param name="plan">The plan of the run.</param>
    /// <returns>Whether something is there to reuse.</returns>
    public bool Prepare(MeasurementPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        string key = KeyOf(plan);
        if (key == _key && key.Length > 0)
            return true;
        _key = key;
        int groups = key.Length == 0 ? 0 : new MeasurementGeometry(_source, plan).Groups;
        Interfaces = new InterfaceStrip?[groups];
        Maps = new MapStrip?[groups];
        return false;
    }

    internal bool Keeps(MeasurementPlan plan) => _key.Length > 0 && _key == KeyOf(plan);

    /// <summary>Everything that pass 1 depends on, as text; empty when there is no pass 1 or too much of it.</summary>
    private string KeyOf(MeasurementPlan plan)
    {
        Procedure procedure = plan.Procedure;
        var geometry = new MeasurementGeometry(_source, plan);
        var none = new Procedure();
        long cells = plan.Stack.Shape.Cells;
        if (geometry.Mapped && cells * MapBytes <= _mostBytes)
            return "map\n"
                + ProcedureText.Write(
                    procedure with
                    {
                        Header = none.Header,
                        Map = new MapSettings { Choice = MapChoice.SemiGlobal },
                        Output = none.Output,
                    }
                );
        if (geometry.Tracked && cells * InterfaceBytes <= _mostBytes)
            return "interface\n"
                + ProcedureText.Write(
                    none with
                    {
                        Conditioning = procedure.Conditioning,
                        Interface = procedure.Interface,
                    }
                );
        return "";
    }
}
