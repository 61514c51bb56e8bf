using System.Numerics;
using EchoToThickness.Simulation.Fields;

namespace EchoToThickness.Simulation.Waves;

/// <summary>
/// Plane-wave amplitudes of all echoes of couplant, coats, metal and deposit: coefficient of the echo with p passes of the couplant and n of the
/// metal, coats and deposit inside it as functions of frequency.
/// </summary>
/// <remarks>
/// A single response is <c>G = R_f + T W z / (1 - R_b W z)</c> with z one round trip in the metal, W the reflection of the far wall, R_f and R_b
/// the reflections of the front from outside and inside and T the two-way transmission; the whole is <c>sum of F^(p-1) G^p</c> with F the
/// reflection of the array's face. Coats are added by the recursion of a layered medium (Brekhovskikh, Waves in Layered Media, section 5;
/// pressure coefficients <c>r = (Z2 - Z1)/(Z2 + Z1)</c>) with the rounds inside a coat cut off after <c>rounds</c>, so that the sum ends in finite time.
/// </remarks>
internal sealed class LayerSeries
{
    /// <summary>Most passes of the couplant.</summary>
    public const int MostCouplant = 6;

    /// <summary>Most round trips in the metal.</summary>
    public const int MostMetal = 24;

    private readonly Complex[] _single = new Complex[MostMetal + 1];
    private readonly Complex[] _power = new Complex[MostMetal + 1];
    private readonly Complex[] _next = new Complex[MostMetal + 1];

    /// <summary>Coefficients at one frequency.</summary>
    /// <param name="front">Front of the metal.</param>
    /// <param name="wall">Reflection of the far wall.</param>
    /// <param name="face">Reflection of the array's face.</param>
    /// <param name="couplantOrders">Passes of the couplant.</param>
    /// <param name="metalOrders">Round trips in the metal.</param>
    /// <param name="coefficients">Shape [p - 1, n], n from 0 to <paramref name="metalOrders"/>.</param>
    public void Fill(
        in FrontCoefficients front,
        Complex wall,
        double face,
        int couplantOrders,
        int metalOrders,
        Span<Complex> coefficients
    )
    {
        _single[0] = front.Outside;
        Complex term = front.Through * wall;
        for (int n = 1; n <= metalOrders; n++, term *= front.Inside * wall)
            _single[n] = term;
        _single.AsSpan(0, metalOrders + 1).CopyTo(_power);
        double weight = 1;
        for (int p = 1; p <= couplantOrders; p++, weight *= face)
        {
            for (int n = 0; n <= metalOrders; n++)
                coefficients[(p - 1) * (metalOrders + 1) + n] = weight * _power[n];
            if (p == couplantOrders)
                break;
            for (int n = 0; n <= metalOrders; n++)
            {
                Complex sum = Complex.Zero;
                for (int i = 0; i <= n; i++)
                    sum += _power[i] * _single[n - i];
                _next[n] = sum;
            }
            _next.AsSpan(0, metalOrders + 1).CopyTo(_power);
        }
    }

    /// <summary>Front of bare metal.</summary>
    /// <param name="outsideImpedance">Impedance of the couplant.</param>
    /// <param name="metalImpedance">Impedance of the metal.</param>
    public static FrontCoefficients Bare(double outsideImpedance, double metalImpedance)
    {
        double r = Reflection(outsideImpedance, metalImpedance);
        return new FrontCoefficients(r, 1 - r * r, -r);
    }

    /// <summary>Puts a coat over a front.</summary>
    /// <param name="inner">Front that starts in the coat's own material.</param>
    /// <param name="outsideImpedance">Impedance of what lies outside the coat.</param>
    /// <param name="coat">The coat.</param>
    /// <param name="frequencyHz">Frequency.</param>
    /// <param name="centreHz">Frequency at which its attenuation holds; it grows in proportion.</param>
    /// <param name="rounds">Rounds inside the coat that are kept.</param>
    public static FrontCoefficients Under(
        in FrontCoefficients inner,
        double outsideImpedance,
        in CoatHit coat,
        double frequencyHz,
        double centreHz,
        int rounds
    )
    {
        double r = Reflection(outsideImpedance, coat.DensityKilogramsPerCubicMetre * coat.VelocityMetresPerSecond);
        Complex pass = Pass(coat, frequencyHz, centreHz);
        Complex sum = CutOff(-r * pass * inner.Outside, rounds);
        return new FrontCoefficients(
            r + (1 - r * r) * pass * inner.Outside * sum,
            (1 - r * r) * pass * inner.Through * sum * sum,
            inner.Inside - r * inner.Through * pass * sum
        );
    }

    /// <summary>Reflection of a wall with a deposit on it.</summary>
    /// <param name="metalImpedance">Impedance of the metal.</param>
    /// <param name="deposit">The deposit.</param>
    /// <param name="behindImpedance">Impedance of what lies behind.</param>
    /// <param name="frequencyHz">Frequency.</param>
    /// <param name="centreHz">Frequency at which its attenuation holds.</param>
    /// <param name="rounds">Rounds inside the deposit that are kept.</param>
    public static Complex Wall(
        double metalImpedance,
        in CoatHit deposit,
        double behindImpedance,
        double frequencyHz,
        double centreHz,
        int rounds
    )
    {
        double impedance = deposit.DensityKilogramsPerCubicMetre * deposit.VelocityMetresPerSecond;
        double near = Reflection(metalImpedance, impedance);
        double far = Reflection(impedance, behindImpedance);
        Complex pass = Pass(deposit, frequencyHz, centreHz);
        return near + (1 - near * near) * pass * far * CutOff(-near * far * pass, rounds);
    }

    /// <summary>Pressure reflection coefficient at normal incidence.</summary>
    /// <param name="from">Impedance of the medium of the incoming wave.</param>
    /// <param name="to">Impedance of the other.</param>
    public static double Reflection(double from, double to) => (to - from) / (to + from);

    private static Complex Pass(in CoatHit coat, double frequencyHz, double centreHz)
    {
        double nepers =
            coat.AttenuationDecibelsPerMetre
            / (20 / Math.Log(10))
            * (frequencyHz / centreHz)
            * 2
            * coat.ThicknessMetres;
        double radians = 2 * Math.PI * frequencyHz * 2 * coat.ThicknessMetres / coat.VelocityMetresPerSecond;
        return Complex.FromPolarCoordinates(Math.Exp(-nepers), radians);
    }

    /// <summary>1 + q + ... + q^rounds.</summary>
    private static Complex CutOff(Complex q, int rounds)
    {
        Complex sum = Complex.One;
        Complex power = Complex.One;
        for (int i = 0; i < rounds; i++)
        {
            power *= q;
            sum += power;
        }
        return sum;
    }
}
