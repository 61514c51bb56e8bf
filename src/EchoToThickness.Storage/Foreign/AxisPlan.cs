using EchoToThickness.Stacks;
using EchoToThickness.Storage.Layouts;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Which axis of a stored array is which axis of the stack. -1 where the array lacks it.</summary>
internal sealed class AxisPlan
{
    private AxisPlan(int rank) => Rank = rank;

    public int Rank { get; }

    public int Scan { get; private init; } = -1;

    public int Beam { get; private init; } = -1;

    public int Sample { get; private init; } = -1;

    /// <summary>Axis that counts scan positions and beams together.</summary>
    public int Cell { get; private init; } = -1;

    public StackShape Shape { get; private init; }

    public bool ScanReversed { get; private init; }

    public bool BeamReversed { get; private init; }

    public bool SampleReversed { get; private init; }

    /// <summary>Whether a rectangle as stored is already <c>[scan, beam, sample]</c>.</summary>
    public bool IsDirect =>
        !ScanReversed
        && !BeamReversed
        && !SampleReversed
        && (
            Cell >= 0
                ? Cell < Sample
                : (Scan < 0 || Scan < Sample) && (Beam < 0 || Beam < Sample) && (Scan < 0 || Beam < 0 || Scan < Beam)
        );

    /// <summary>Joins the axes of a layout with the extents of an array.</summary>
    /// <param name="layout">Axes, slowest first; reversed axes; beams of a cell axis.</param>
    /// <param name="axes">Axes of the array, slowest first (the layout's, or those turned over for Fortran order).</param>
    /// <param name="shape">Extents of the array.</param>
    /// <param name="fault">Makes the exception: what is wrong and how to fix it.</param>
    public static AxisPlan Of(
        SamplesLayout layout,
        IReadOnlyList<StoredAxis> axes,
        IReadOnlyList<long> shape,
        Func<string, string, Exception> fault
    )
    {
        string extents = "[" + string.Join(" x ", shape) + "]";
        if (axes.Count != shape.Count)
        {
            throw fault(
                $"The array has {shape.Count} axes {extents}, the layout map names {axes.Count}.",
                "name each axis once, slowest first, with 'single' for an axis of extent 1."
            );
        }
        int[] at = [-1, -1, -1, -1];
        for (int axis = 0; axis < axes.Count; axis++)
        {
            if (axes[axis] == StoredAxis.Single)
            {
                if (shape[axis] != 1)
                    throw fault(
                        $"Axis {axis} is declared as 'single' but has extent {shape[axis]} {extents}.",
                        "say what it counts."
                    );
                continue;
            }
            if (at[(int)axes[axis]] >= 0)
                throw fault($"The axis '{Word(axes[axis])}' is named twice.", "name each axis once.");
            if (shape[axis] is < 1 or > int.MaxValue)
            {
                throw fault(
                    $"Axis {axis} ('{Word(axes[axis])}') has extent {shape[axis]} {extents}; 1 to {int.MaxValue} is possible.",
                    "check the array, or its axes in the layout map."
                );
            }
            at[(int)axes[axis]] = axis;
        }
        int scan = at[(int)StoredAxis.Scan];
        int beam = at[(int)StoredAxis.Beam];
        int sample = at[(int)StoredAxis.Sample];
        int cell = at[(int)StoredAxis.Cell];
        if (sample < 0)
            throw fault("No axis is named 'sample'.", "name the axis that runs along the time base.");
        if (cell >= 0 && (scan >= 0 || beam >= 0))
            throw fault("'cell' stands for scan and beam together and cannot be named beside them.", "leave one out.");
        int beams = beam >= 0 ? (int)shape[beam] : 1;
        long scans = scan >= 0 ? shape[scan] : 1;
        if (cell >= 0)
        {
            beams =
                layout.Beams
                ?? throw fault("The axis 'cell' needs the number of beams.", "add beams = ... to [samples].");
            if (shape[cell] % beams != 0)
                throw fault(
                    $"The cell axis has extent {shape[cell]}, which is no multiple of {beams} beams.",
                    "correct beams."
                );
            scans = shape[cell] / beams;
        }
        foreach (StoredAxis axis in layout.Reversed)
        {
            if (axis is StoredAxis.Cell or StoredAxis.Single)
                throw fault($"'{Word(axis)}' cannot be reversed.", "reverse scan, beam or sample.");
        }
        return new AxisPlan(shape.Count)
        {
            Scan = scan,
            Beam = beam,
            Sample = sample,
            Cell = cell,
            Shape = new StackShape((int)scans, beams, (int)shape[sample]),
            ScanReversed = layout.Reversed.Contains(StoredAxis.Scan),
            BeamReversed = layout.Reversed.Contains(StoredAxis.Beam),
            SampleReversed = layout.Reversed.Contains(StoredAxis.Sample),
        };
    }

    /// <summary>The word of an axis in a layout map.</summary>
    public static string Word(StoredAxis axis) =>
        axis switch
        {
            StoredAxis.Scan => "scan",
            StoredAxis.Beam => "beam",
            StoredAxis.Sample => "sample",
            StoredAxis.Cell => "cell",
            _ => "single",
        };
}
