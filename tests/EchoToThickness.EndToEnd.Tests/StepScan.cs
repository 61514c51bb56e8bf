namespace EchoToThickness.EndToEnd.Tests;

/// <summary>The physics of the scenario steps-and-pits on two lines of a 4 inch elbow: three steps on the flank and pits wider than the beam.</summary>
public sealed class StepScan() : ElbowScan(Scene)
{
    // Steps of 10 deg: 26.6 mm along on the centre line of 152.4 mm; 24 deg: 23.9 mm around on 57.15 mm.
    private const string Scene = """
        [scene]
        name = "steps and wide pits"
        seed = 20
        [component]
        kind = "elbow"
        nps = "4"
        schedule = "40"
        [wall]
        bend_thinning = "8 %"
        bend_thickening = "10 %"
        [[wall.step]]
        name = "step 80 %"
        along = "20 deg"
        around = "90 deg"
        length = "10 deg"
        width = "24 deg"
        wall = "80 %"
        [[wall.step]]
        name = "step 60 %"
        along = "30 deg"
        around = "90 deg"
        length = "10 deg"
        width = "24 deg"
        wall = "60 %"
        [[wall.step]]
        name = "step 40 %"
        along = "40 deg"
        around = "90 deg"
        length = "10 deg"
        width = "24 deg"
        wall = "40 %"
        [[wall.pit]]
        name = "pit 2 mm deep"
        along = "20 deg"
        around = "125 deg"
        shape = "spherical"
        diameter = "20 mm"
        depth = "2 mm"
        [[wall.pit]]
        name = "pit 1.5 mm deep"
        along = "36 deg"
        around = "125 deg"
        shape = "spherical"
        diameter = "18 mm"
        depth = "1.5 mm"
        [array]
        elements = 64
        pitch = "1 mm"
        elevation = "8 mm"
        aperture_elements = 8
        frequency = "7 MHz"
        bandwidth = "60 %"
        [scan]
        direction = "along"
        lines = 2
        overlap = "8 mm"
        first_line = "82 deg"
        pitch = "1 mm"
        from = "25 mm"
        to = "135 mm"
        """;
}
