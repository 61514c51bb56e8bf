using System.Numerics;

namespace EchoToThickness.Simulation.Layers;

/// <summary>
/// Flat layers between two half-spaces, met by a plane longitudinal wave at normal incidence: exact, with every multiple.
/// </summary>
/// <remarks>
/// <para>From the last boundary to the first, <c>R_k = (r + R_{k+1} p) / (1 + r R_{k+1} p)</c> with <c>r = (Z_{k+1} - Z_k) / (Z_{k+1} +
/// Z_k)</c> and <c>p = exp(-2 i k d)</c> of the layer behind the boundary (L. M. Brekhovskikh, Waves in Layered Media, 1960, §5; the
/// same as the product of transfer matrices, which loses all digits in thick or lossy layers where this form does not: every factor stays
/// within the unit circle). Convention: waves <c>exp(i (ω t - k x))</c>, so that a delay τ multiplies a spectrum by <c>exp(-i ω τ)</c>;
/// coefficients are of pressure; +1 is a rigid wall, -1 a free one.</para>
/// <para>Simplified: flat, parallel, infinitely wide; no shear waves (none arise at normal incidence); no diffraction.</para>
/// </remarks>
public sealed class LayeredMedium
{
    private readonly MediumLayer[] _layers;

    /// <summary>Makes a medium.</summary>
    /// <param name="front">The half-space from which the wave comes (the couplant).</param>
    /// <param name="layers">Layers in the order in which the wave meets them; may be empty.</param>
    /// <param name="back">The half-space behind them; null: nothing, a free surface.</param>
    /// <exception cref="ArgumentException">A velocity or density is not positive, an attenuation or thickness negative.</exception>
    public LayeredMedium(LayerMaterial front, IReadOnlyList<MediumLayer> layers, LayerMaterial? back)
    {
        ArgumentNullException.ThrowIfNull(layers);
        front.Check(nameof(front));
        back?.Check(nameof(back));
        foreach (MediumLayer layer in layers)
        {
            layer.Material.Check(nameof(layers));
            if (!(layer.ThicknessMetres >= 0) || !double.IsFinite(layer.ThicknessMetres))
                throw new ArgumentException($"A layer of {layer.ThicknessMetres} m cannot be.", nameof(layers));
        }
        Front = front;
        Back = back;
        _layers = [.. layers.Where(l => l.ThicknessMetres > 0)];
    }

    /// <summary>Half-space from which the wave comes.</summary>
    public LayerMaterial Front { get; }

    /// <summary>Half-space behind the layers; null: a free surface.</summary>
    public LayerMaterial? Back { get; }

    /// <summary>The layers that have a thickness.</summary>
    public IReadOnlyList<MediumLayer> Layers => _layers;

    /// <summary>Reflection coefficient of pressure at the first boundary.</summary>
    /// <param name="frequencyHz">Frequency, hertz; not negative.</param>
    public Complex Reflection(double frequencyHz) => Reflection(new Complex(2 * Math.PI * frequencyHz, 0));

    /// <summary>Reflection coefficient of pressure at the first boundary, at a complex frequency.</summary>
    /// <param name="angularFrequency">Radians per second; real part not negative, imaginary part not positive (a damped response).</param>
    public Complex Reflection(Complex angularFrequency)
    {
        Complex reflection = Boundary(_layers.Length, angularFrequency);
        for (int k = _layers.Length - 1; k >= 0; k--)
        {
            Complex through = reflection * RoundTrip(k, angularFrequency);
            Complex front = Boundary(k, angularFrequency);
            reflection = (front + through) / (1 + front * through);
        }
        return reflection;
    }

    /// <summary>Transmission coefficient of pressure from the first boundary into the half-space behind the layers.</summary>
    /// <param name="frequencyHz">Frequency, hertz; not negative.</param>
    /// <returns>Pressure behind the last boundary over the incident one at the first; 0 at a free surface.</returns>
    /// <remarks>
    /// <c>T = product of (1 + r) exp(-i k d) / (1 + r R p)</c>. Without losses <c>|R|² + |T|² Z_front / Z_back = 1</c>.
    /// </remarks>
    public Complex Transmission(double frequencyHz)
    {
        Complex omega = new(2 * Math.PI * frequencyHz, 0);
        Complex reflection = Boundary(_layers.Length, omega);
        Complex transmission = 1 + reflection;
        for (int k = _layers.Length - 1; k >= 0; k--)
        {
            Complex through = reflection * RoundTrip(k, omega);
            Complex front = Boundary(k, omega);
            Complex inside = 1 + front * through;
            transmission *= (1 + front) * OneWay(k, omega) / inside;
            reflection = (front + through) / inside;
        }
        return transmission;
    }

    // Reflection at the boundary in front of layer k, both sides endless.
    private Complex Boundary(int k, Complex omega)
    {
        LayerMaterial? behind = k < _layers.Length ? _layers[k].Material : Back;
        if (behind is null)
            return -Complex.One;
        Complex before = (k == 0 ? Front : _layers[k - 1].Material).Impedance(omega);
        Complex after = behind.Value.Impedance(omega);
        return (after - before) / (after + before);
    }

    private Complex RoundTrip(int k, Complex omega)
    {
        Complex oneWay = OneWay(k, omega);
        return oneWay * oneWay;
    }

    private Complex OneWay(int k, Complex omega) =>
        Complex.Exp(-Complex.ImaginaryOne * _layers[k].Material.WaveNumber(omega) * _layers[k].ThicknessMetres);
}
