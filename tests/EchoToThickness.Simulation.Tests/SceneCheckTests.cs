using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Scenes;
using Xunit;

namespace EchoToThickness.Simulation.Tests;

/// <summary>Each scene that cannot be is refused with its key and a reason; the same scene without the fault is taken.</summary>
public sealed class SceneCheckTests
{
    private const string Plate = "[component]\nkind = \"plate\"\nnominal_wall = \"10 mm\"\n";
    private const string Elbow = "[component]\nkind = \"elbow\"\nnps = \"6\"\nschedule = \"40\"\n";
    private const string Pipe = "[component]\nkind = \"pipe\"\nnps = \"4\"\nschedule = \"40\"\nlength = \"300 mm\"\n";

    public static TheoryData<string, string, string> Faults() =>
        new()
        {
            { "", "component.nominal_wall", "no wall" },
            { "[component]\nkind = \"pipe\"\n", "component.outside_diameter", "no diameter" },
            { Elbow.Replace("\"6\"", "\"7\"", StringComparison.Ordinal), "component.nps", "no pipe size \"7\"" },
            { Elbow.Replace("\"40\"", "\"41\"", StringComparison.Ordinal), "component.schedule", "no schedule \"41\"" },
            { Elbow + "outside_diameter = \"168 mm\"\n", "component.outside_diameter", "given twice" },
            { Elbow + "nominal_wall = \"7 mm\"\n", "component.nominal_wall", "given twice" },
            { Elbow + "bend_radius = \"84 mm\"\n", "component.bend_radius", "not larger than the outside radius" },
            { Elbow + "bend_angle = \"0 deg\"\n", "component.bend_angle", "not between 0 and 360" },
            { Plate + "nps = \"6\"\n", "component.nps", "no pipe size" },
            { Plate + "[material]\nshear_velocity = \"5800 m/s\"\n", "material.shear_velocity", "no solid has it" },
            { Plate + "[coupling]\nthickness = \"0 mm\"\n", "coupling.thickness", "no couplant" },
            { Plate + "[coupling]\nthickness = \"1 mm\"\njitter = \"0.3 mm\"\n", "coupling.jitter", "below zero" },
            { Plate + "[wall]\nbend_thinning = \"10 %\"\n", "wall.bend_thinning", "Only an elbow" },
            { Plate + "[[wall.pit]]\ndiameter = \"30 mm\"\ndepth = \"11 mm\"\n", "wall.pit[1].depth", "below zero" },
            { Plate + "[[wall.pit]]\ndiameter = \"3 mm\"\ndepth = \"2 mm\"\n", "wall.pit[1].depth", "undercut" },
            { Plate + "[[wall.pit]]\ndiameter = \"3 mm\"\n", "wall.pit[1]", "depth is missing" },
            { Plate + "[[wall.pit]]\ndiameter = \"0 mm\"\ndepth = \"0 mm\"\n", "wall.pit[1].diameter", "nothing" },
            { Plate + "[[wall.hole]]\n", "wall.hole[1]", "no depth" },
            { Plate + "[[wall.hole]]\ndepth = \"120 %\"\n", "wall.hole[1].depth", "below zero" },
            { Plate + "[[wall.step]]\nwall = \"0 mm\"\n", "wall.step[1].wall", "below zero" },
            {
                Plate
                    + "[[wall.step]]\nalong = \"20 mm\"\nlength = \"20 mm\"\nwall = \"6 mm\"\n[[wall.step]]\nalong = \"35 mm\"\nlength = \"20 mm\"\nwall = \"8 mm\"\n",
                "wall.step[2]",
                "Steps 1 and 2 overlap"
            },
            { Plate + "[[wall.roughness]]\nrms = \"3 mm\"\n", "wall.roughness[1].rms", "reach through" },
            {
                Plate + "[[wall.roughness]]\nrms = \"0.1 mm\"\ncorrelation_along = \"0.001 mm\"\n",
                "wall.roughness[1].correlation_along",
                "finer than sound"
            },
            { Plate + "[[wall.cluster]]\n", "wall.cluster[1]", "how many" },
            { Plate + "[[wall.lamination]]\ndepth = \"12 mm\"\n", "wall.lamination[1].depth", "does not lie inside" },
            {
                Plate
                    + "[survey]\nyears = 20\n[[wall.pit]]\ndiameter = \"40 mm\"\ndepth = \"5 mm\"\ngrowth_per_year = \"0.3 mm/year\"\n",
                "wall.pit[1].depth",
                "with its growth"
            },
            { Plate + "[array]\naperture_elements = 65\n", "array.aperture_elements", "the array has 64" },
            { Plate + "[array]\ndead_elements = [3, 65]\n", "array.dead_elements", "no element 65" },
            { Plate + "[array]\nbandwidth = \"0 %\"\n", "array.bandwidth", "zero" },
            {
                Plate + "[instrument]\nnoise_band_low = \"9 MHz\"\nnoise_band_high = \"8 MHz\"\n",
                "instrument.noise_band_high",
                "nothing passes"
            },
            { Plate + "[instrument]\nnoise_band_low = \"20 MHz\"\n", "instrument.noise_band_low", "nothing passes" },
            {
                Plate + "[instrument]\nnoise_band_high = \"49 MHz\"\n",
                "instrument.noise_band_high",
                "too near to half"
            },
            { Plate + "[instrument]\nnoise_band_low = \"0.1 MHz\"\n", "instrument.noise_band_low", "taps" },
            {
                Plate + "[instrument]\nnoise_spectrum = \"white\"\nnoise_band_low = \"1 MHz\"\n",
                "instrument.noise_band_low",
                "a band is given"
            },
            { Plate + "[array]\npulse = \"file\"\n", "array.pulse_file", "none is named" },
            {
                Plate + "[coupling]\nvelocity = \"5920 m/s\"\ndensity = \"7850 kg/m3\"\n",
                "coupling.density",
                "same impedance"
            },
            { Plate + "[material]\ndispersion = true\nattenuation_power = 3\n", "material.dispersion", "pole" },
            { Plate + "[array]\nelements = 128\n", "array.elements", "wider than the plate" },
            { Pipe + "[array]\nelements = 128\nconformal = false\n", "array.conformal", "wider than the pipe" },
            { Pipe + "[array]\nelements = 400\n", "array.elements", "longer than the girth" },
            { Plate + "[scan]\nfrom = \"50 mm\"\nto = \"40 mm\"\n", "scan.to", "ends before it starts" },
            { Plate + "[scan]\nlines = 2\noverlap = \"70 mm\"\n", "scan.overlap", "would not move on" },
            { Pipe + "[scan]\nstart = \"mid-bend\"\n", "scan.start", "Only an elbow" },
            { Plate + "[instrument]\nsample_rate = \"12 MHz\"\n", "instrument.sample_rate", "Nyquist" },
            { Plate + "[instrument]\nbits = 10\n", "instrument.bits", "10 bits" },
            { Plate + "[instrument]\nsamples = 400\n", "instrument.samples", "outside the time base" },
            { Plate + "[instrument]\nstart = \"7 us\"\n", "instrument.start", "interface echo comes from" },
            { Plate + "[[fault]]\nkind = \"encoder slip\"\nlines = [2]\n", "fault[1].lines", "no line 2" },
        };

    [Theory]
    [MemberData(nameof(Faults))]
    public void Read_SceneThatCannotBe_SaysFileLineKeyAndWhy(string toml, string key, string why)
    {
        ProcedureException error = Assert.Throws<ProcedureException>(() => SceneText.Read(toml, "bad.toml"));
        ProcedureFinding finding = Assert.Single(error.Findings, f => f.Key == key);
        Assert.Contains(why, finding.What, StringComparison.Ordinal);
        Assert.StartsWith("bad.toml", finding.Place, StringComparison.Ordinal);
        Assert.NotEqual("", finding.Remedy);
    }

    [Theory]
    [InlineData(Plate)]
    [InlineData(Elbow)]
    [InlineData(Pipe)]
    [InlineData(Plate + "[instrument]\nsamples = 400\nclipped_time_base = true\n")]
    [InlineData(
        Plate
            + "[[wall.step]]\nalong = \"20 mm\"\nlength = \"20 mm\"\nwall = \"6 mm\"\n[[wall.step]]\nalong = \"40 mm\"\nlength = \"20 mm\"\nwall = \"8 mm\"\n"
    )]
    public void Read_SoundScene_IsTaken(string toml) =>
        Assert.Empty(SceneCheck.Findings(SceneText.Read(toml, "good.toml").Value));

    /// <summary>B36.10M: NPS 6 has 168.3 mm outside and 7.11 mm wall in schedule 40, NPS 10 has 273.0 mm and 9.27 mm.</summary>
    [Fact]
    public void OfPipeSize_ElbowByTable_TakesDiameterWallAndBendOfTheOtherSize()
    {
        Scene scene = SceneText.Read(Elbow, "elbow.toml").Value;
        ComponentShape six = ComponentShape.Of(scene.Component);
        ComponentShape ten = ComponentShape.Of(scene.OfPipeSize("10").Component);
        Assert.Equal(0.1683 / 2, six.OutsideRadiusMetres, 12);
        Assert.Equal(0.00711, six.NominalWallMetres, 12);
        Assert.Equal(0.2730 / 2, ten.OutsideRadiusMetres, 12);
        Assert.Equal(0.00927, ten.NominalWallMetres, 12);
        Assert.Equal(1.5 * 10 * 0.0254, ten.BendRadiusMetres, 12);
        // The record grows with the wall: three echoes of 9.27 mm take 2.2 us longer than of 7.11 mm (6 dd / c).
        double seconds =
            SceneTimeBase.Of(scene.OfPipeSize("10"), ten).EndSeconds - SceneTimeBase.Of(scene, six).EndSeconds;
        Assert.Equal(6 * (0.00927 - 0.00711) / 5920, seconds, 1.0 / 100e6 * 10);
    }

    [Fact]
    public void OfPipeSize_SceneWithoutTable_SaysWhatToWrite()
    {
        Scene scene = SceneText.Read(Plate, "plate.toml").Value;
        Assert.Contains(
            "not made to scale",
            Assert.Throws<ProcedureException>(() => scene.OfPipeSize("8")).Message,
            StringComparison.Ordinal
        );
    }
}
