using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Fields;

/// <summary>A regular grid of points on the outer surface, centred on one of them or between them: true distances, frozen at the centre.</summary>
internal readonly struct SurfaceWindow
{
    public SurfaceWindow(
        ComponentShape shape,
        SurfacePoint centre,
        double spacingAlongMetres,
        double spacingAroundMetres,
        int countAlong,
        int countAround
    )
    {
        CountAlong = countAlong;
        CountAround = countAround;
        StepAlong = spacingAlongMetres / shape.Stretch(centre);
        StepAround = spacingAroundMetres;
        FirstAlong = centre.AlongMetres - (countAlong - 1) / 2.0 * StepAlong;
        FirstAround = centre.AroundMetres - (countAround - 1) / 2.0 * StepAround;
    }

    public int CountAlong { get; }

    public int CountAround { get; }

    /// <summary>In the coordinate along (on an elbow: of the centre line).</summary>
    public double StepAlong { get; }

    public double StepAround { get; }

    public double FirstAlong { get; }

    public double FirstAround { get; }

    public double LastAlong => FirstAlong + (CountAlong - 1) * StepAlong;

    public double LastAround => FirstAround + (CountAround - 1) * StepAround;

    public double AlongOf(int row) => FirstAlong + row * StepAlong;
}
