namespace EchoToThickness.Simulation.Layers;

/// <summary>
/// A plate behind a couplant as a study of estimators needs it: the clean A-scan, the true wall and times, and the least standard
/// deviation any unbiased estimator can reach. Exact for plane waves; needs no scene.
/// </summary>
/// <remarks>
/// Cramér-Rao bound for white Gaussian noise: with the unknowns wall, couplant and amplitude the Fisher matrix is <c>J_ij = Σ ∂s/∂θ_i
/// ∂s/∂θ_j / σ²</c> over the whole record, pulse and media known; the bound is the square root of <c>(J⁻¹)_wall,wall</c> (S. M. Kay,
/// Fundamentals of Statistical Signal Processing: Estimation Theory, 1993, section 3.9). Derivatives are central differences over ±0.1 µm,
/// whose error is below 1e-6 of them at 10 MHz. One object a thread.
/// </remarks>
public sealed class LayeredPlate
{
    private const double StepMetres = 1e-7;
    private readonly LayeredAScan _ascan;
    private readonly double[] _plus;
    private readonly double[] _minus;
    private readonly double[] _signal;
    private readonly double[] _wallSlope;
    private readonly double[] _couplantSlope;

    /// <summary>Makes a plate on a time base.</summary>
    /// <param name="ascan">Pulse and time base.</param>
    public LayeredPlate(LayeredAScan ascan)
    {
        ArgumentNullException.ThrowIfNull(ascan);
        _ascan = ascan;
        _plus = new double[ascan.Samples];
        _minus = new double[ascan.Samples];
        _signal = new double[ascan.Samples];
        _wallSlope = new double[ascan.Samples];
        _couplantSlope = new double[ascan.Samples];
    }

    /// <summary>Couplant; water at 20 degC by default.</summary>
    public LayerMaterial Couplant { get; init; } = new(1480, 1000);

    /// <summary>Metal; steel by default.</summary>
    public LayerMaterial Metal { get; init; } = new(5920, 7850);

    /// <summary>What lies behind the plate; null: a free surface.</summary>
    public LayerMaterial? Backing { get; init; }

    /// <summary>Layers on the outer surface, the first next to the couplant.</summary>
    public IReadOnlyList<MediumLayer> Coats { get; init; } = [];

    /// <summary>Layers on the inner surface, the first next to the metal.</summary>
    public IReadOnlyList<MediumLayer> Deposits { get; init; } = [];

    /// <summary>Reflection of the array's face seen from the couplant.</summary>
    public double FaceReflection { get; init; }

    /// <summary>Time between neighbouring back-wall echoes, <c>2 d / c</c>.</summary>
    /// <param name="wallMetres">Wall, metres.</param>
    /// <returns>Seconds.</returns>
    public double RoundTripSeconds(double wallMetres) => 2 * wallMetres / Metal.VelocityMetresPerSecond;

    /// <summary>Time of the echo of the metal's outer surface, through couplant and coats.</summary>
    /// <param name="couplantMetres">Couplant, metres.</param>
    /// <returns>Seconds from the pulse.</returns>
    public double InterfaceSeconds(double couplantMetres) =>
        2 * couplantMetres / Couplant.VelocityMetresPerSecond
        + Coats.Sum(coat => 2 * coat.ThicknessMetres / coat.Material.VelocityMetresPerSecond);

    /// <summary>Computes the clean A-scan.</summary>
    /// <param name="couplantMetres">Couplant, metres.</param>
    /// <param name="wallMetres">Wall, metres.</param>
    /// <param name="destination">Shape [sample]; the pulse's own amplitude is 1.</param>
    public void Render(double couplantMetres, double wallMetres, Span<double> destination) =>
        _ascan.Render(Medium(wallMetres), couplantMetres, FaceReflection, destination);

    /// <summary>Amplitude of the first back-wall echo of a bare plate without losses, <c>|(1 - r²) r'|</c>, the pulse being 1.</summary>
    /// <returns>A factor, not negative: pressure coefficients r at the outer and r' at the inner surface.</returns>
    public double BackWallAmplitude()
    {
        double couplant = Couplant.VelocityMetresPerSecond * Couplant.DensityKilogramsPerCubicMetre;
        double metal = Metal.VelocityMetresPerSecond * Metal.DensityKilogramsPerCubicMetre;
        double outer = (metal - couplant) / (metal + couplant);
        double inner = 1;
        if (Backing is { } back)
        {
            double behind = back.VelocityMetresPerSecond * back.DensityKilogramsPerCubicMetre;
            inner = Math.Abs(behind - metal) / (behind + metal);
        }
        return (1 - outer * outer) * inner;
    }

    /// <summary>Least standard deviation of an unbiased estimate of the wall.</summary>
    /// <param name="couplantMetres">True couplant, metres.</param>
    /// <param name="wallMetres">True wall, metres.</param>
    /// <param name="noise">Standard deviation of the white noise, the pulse being 1.</param>
    /// <param name="couplantKnown">Whether the couplant's thickness is known to the estimator.</param>
    /// <returns>Metres.</returns>
    public double WallBoundMetres(double couplantMetres, double wallMetres, double noise, bool couplantKnown = false)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(noise);
        Render(couplantMetres, wallMetres, _signal);
        Slope(
            h => Render(couplantMetres, wallMetres + h, _plus),
            h => Render(couplantMetres, wallMetres + h, _minus),
            _wallSlope
        );
        Slope(
            h => Render(couplantMetres + h, wallMetres, _plus),
            h => Render(couplantMetres + h, wallMetres, _minus),
            _couplantSlope
        );
        double ww = Dot(_wallSlope, _wallSlope);
        double ws = Dot(_wallSlope, _signal);
        double ss = Dot(_signal, _signal);
        // What is left of the wall's information when the amplitude, and then the couplant, must be found too (Schur complements).
        double left = ww - ws * ws / ss;
        if (!couplantKnown)
        {
            double cc = Dot(_couplantSlope, _couplantSlope);
            double cs = Dot(_couplantSlope, _signal);
            double wc = Dot(_wallSlope, _couplantSlope);
            double shared = wc - ws * cs / ss;
            left -= shared * shared / (cc - cs * cs / ss);
        }
        return noise / Math.Sqrt(left);
    }

    private LayeredMedium Medium(double wallMetres) =>
        new(Couplant, [.. Coats, new MediumLayer(Metal, wallMetres), .. Deposits], Backing);

    private void Slope(Action<double> plus, Action<double> minus, double[] slope)
    {
        plus(StepMetres);
        minus(-StepMetres);
        for (int i = 0; i < slope.Length; i++)
            slope[i] = (_plus[i] - _minus[i]) / (2 * StepMetres);
    }

    private static double Dot(double[] a, double[] b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }
}
