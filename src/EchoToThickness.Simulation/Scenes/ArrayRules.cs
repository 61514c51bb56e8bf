using System.Globalization;
using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>What contradicts in the array and the scan plan.</summary>
internal sealed class ArrayRules(Scene scene, ComponentShape? shape, List<ProcedureFinding> findings)
{
    public void Check()
    {
        ArraySection array = scene.Array;
        if (array.ApertureElements > array.Elements)
            Add(
                "array.aperture_elements",
                $"{array.ApertureElements} elements fire together, and the array has {array.Elements}.",
                "make the aperture smaller or the array longer."
            );
        for (int i = 0; i < array.DeadElements.Count; i++)
        {
            int dead = array.DeadElements[i];
            if (dead < 1 || dead > array.Elements)
                Add(
                    "array.dead_elements",
                    $"There is no element {dead}; elements count from 1 to {array.Elements}.",
                    "correct the list."
                );
        }
        if (!(array.BandwidthFraction > 0))
            Add(
                "array.bandwidth",
                "A bandwidth of zero is an endless tone: its echoes have no time.",
                "write a bandwidth such as \"60 %\"."
            );
        if (array.Pulse == PulseSource.File && string.IsNullOrEmpty(array.PulseFile))
            Add(
                "array.pulse_file",
                "The pulse is to come from a file, and none is named.",
                "write pulse_file = \"pulse.csv\"."
            );
        if (array.Pulse != PulseSource.File && array.PulseFile is not null)
            Add(
                "array.pulse_file",
                "A pulse file is named, and the pulse does not come from a file.",
                "write pulse = \"file\", or leave pulse_file out."
            );
        if (shape is null)
            return;
        Fit();
        Scan();
    }

    private void Fit()
    {
        ArraySection array = scene.Array;
        bool around = scene.Scan.Direction == ScanDirection.Along;
        double length = array.Elements * array.PitchMetres;
        if (around && shape!.Shape != SceneShape.Plate)
        {
            if (array.IsConformal && length > shape.WidthMetres)
                Add(
                    "array.elements",
                    $"An array of {Mm(length)} is longer than the girth of {Mm(shape.WidthMetres)}.",
                    "use fewer elements or a smaller pitch."
                );
            else if (!array.IsConformal && length >= 2 * shape.OutsideRadiusMetres)
                Add(
                    "array.conformal",
                    $"A flat array of {Mm(length)} is wider than the pipe of {Mm(2 * shape.OutsideRadiusMetres)}: its ends look past it.",
                    "use fewer elements, or write conformal = true."
                );
        }
        if (around && shape!.Shape == SceneShape.Plate && length > shape.WidthMetres * (1 + 1e-9))
            Add(
                "array.elements",
                $"An array of {Mm(length)} is wider than the plate of {Mm(shape.WidthMetres)}.",
                "use fewer elements, or write component.width larger."
            );
        double elevationLimit = around ? shape!.LengthMetres : shape!.WidthMetres;
        if (array.ElevationMetres > elevationLimit)
            Add(
                "array.elevation",
                $"Elements of {Mm(array.ElevationMetres)} are longer than the component of {Mm(elevationLimit)}.",
                "make the elements shorter."
            );
    }

    private void Scan()
    {
        ScanSection scan = scene.Scan;
        bool along = scan.Direction == ScanDirection.Along;
        double whole = along ? shape!.LengthMetres : shape!.WidthMetres;
        double Metres(SceneLength value) => along ? shape.AlongMetres(value) : shape.AroundMetres(value);
        double from = scan.From is { } start ? Metres(start) : double.NegativeInfinity;
        double to = scan.To is { } end ? Metres(end) : double.PositiveInfinity;
        if (from >= to)
            Add("scan.to", "The scanned range ends before it starts.", "make 'to' larger than 'from'.");
        else if (scan.From is not null && scan.To is not null && to - from > whole * (1 + 1e-9))
            Add(
                "scan.to",
                $"The scanned range of {Mm(to - from)} is longer than the component of {Mm(whole)}.",
                "shorten the range."
            );
        if (!(scan.PitchMetres > 0))
            Add("scan.pitch", "Scan positions have no distance.", "write pitch = \"1 mm\".");
        double array = scene.Array.Elements * scene.Array.PitchMetres;
        if (scan.IndexStepMetres is not null && scan.OverlapMetres > 0)
            Add("scan.overlap", "Lines are placed twice, by index_step and by overlap.", "leave one of them out.");
        else if (scan.OverlapMetres >= array)
            Add(
                "scan.overlap",
                $"Lines of {Mm(array)} cannot overlap by {Mm(scan.OverlapMetres)}: they would not move on.",
                "make the overlap smaller than the array."
            );
        if (scan.IndexStepMetres is { } step && !(step > 0) && scan.Lines > 1)
            Add("scan.index_step", "Lines lie on one another.", "write index_step = \"50 mm\".");
        if (scan.Start == ScanStart.MidBend && shape.Shape != SceneShape.Elbow)
            Add("scan.start", "Only an elbow has a mid-bend.", "write start = \"end\".");
        if (scene.Coupling.IntradosLiftOffMetres > 0 && shape.Shape != SceneShape.Elbow)
            Add("coupling.lift_off_intrados", "Only an elbow has an intrados.", "leave it out.");
    }

    private void Add(string key, string what, string remedy) => findings.Add(new ProcedureFinding(key, what, remedy));

    private static string Mm(double metres) => string.Create(CultureInfo.InvariantCulture, $"{metres * 1e3:0.###} mm");
}
