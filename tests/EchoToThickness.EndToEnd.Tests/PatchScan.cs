namespace EchoToThickness.EndToEnd.Tests;

/// <summary>The physics of the scenario large-patch on two lines of an 8 inch elbow: one smooth area of loss and a fine roughness.</summary>
public sealed class PatchScan() : ElbowScan(Scene)
{
    private const string Scene = """
        [scene]
        name = "patch"
        seed = 31
        [component]
        kind = "elbow"
        nps = "8"
        schedule = "40"
        [wall]
        bend_thinning = "8 %"
        bend_thickening = "10 %"
        [[wall.patch]]
        name = "corroded area"
        along = "40 deg"
        around = "90 deg"
        length = "35 deg"
        width = "150 deg"
        depth = "45 %"
        angle = "15 deg"
        smoothness = 2.5
        [[wall.roughness]]
        name = "general roughness"
        rms = "0.05 mm"
        correlation_along = "4 mm"
        spectrum = "gaussian"
        [array]
        elements = 64
        pitch = "1 mm"
        elevation = "8 mm"
        aperture_elements = 8
        frequency = "5 MHz"
        bandwidth = "60 %"
        [scan]
        direction = "along"
        lines = 2
        overlap = "5 mm"
        first_line = "76 deg"
        pitch = "2 mm"
        from = "100 mm"
        to = "340 mm"
        """;
}
