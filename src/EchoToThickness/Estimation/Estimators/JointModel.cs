namespace EchoToThickness.Estimation.Estimators;

/// <summary>Residual and derivatives of the joint train over the band.</summary>
internal static class JointModel
{
    /// <summary>Sum of squared residuals; with a normal matrix given also that matrix and the gradient.</summary>
    /// <param name="spectrum">Record and reference.</param>
    /// <param name="train">Parameters.</param>
    /// <param name="phase">Whether the phase is free.</param>
    /// <param name="attenuation">Whether the attenuation is free.</param>
    /// <param name="normal">Shape [unknown × unknown], or empty. Order: spacing, strength, decay (when more than one echo), phase, attenuation.</param>
    /// <param name="gradient">Shape [unknown], or empty.</param>
    public static double Evaluate(
        EchoSpectrum spectrum,
        in JointTrain train,
        bool phase,
        bool attenuation,
        Span<double> normal,
        Span<double> gradient
    )
    {
        normal.Clear();
        gradient.Clear();
        int n = gradient.Length;
        int echoes = train.Echoes;
        ReadOnlySpan<double> sr = spectrum.EchoReal;
        ReadOnlySpan<double> si = spectrum.EchoImaginary;
        ReadOnlySpan<double> wr = spectrum.WallReal;
        ReadOnlySpan<double> wi = spectrum.WallImaginary;
        double centre = spectrum.FirstAngular + 0.5 * (sr.Length - 1) * spectrum.AngularStep;
        double omega = spectrum.FirstAngular;
        (double zs, double zc) = Math.SinCos(-omega * train.Spacing);
        (double ds, double dc) = Math.SinCos(-spectrum.AngularStep * train.Spacing);
        (double ms, double mc) = Math.SinCos(-omega * train.Spacing * echoes);
        (double dms, double dmc) = Math.SinCos(-spectrum.AngularStep * train.Spacing * echoes);
        (double ps, double pc) = Math.SinCos(train.Phase);
        double loss = train.Attenuation;
        double fade = Math.Exp(-loss * (omega - centre) / centre);
        double fadeStep = Math.Exp(-loss * spectrum.AngularStep / centre);
        double power = Math.Pow(train.Decay * fade, echoes);
        double powerStep = Math.Pow(fadeStep, echoes);
        double squares = 0;
        Span<double> cr = stackalloc double[5];
        Span<double> ci = stackalloc double[5];
        for (int k = 0; k < sr.Length; k++, omega += spectrum.AngularStep)
        {
            // z = fade e^{-jwt}, u = rho z, u^M; g = (1 - u^M) / (1 - u), g' its derivative by u.
            (double zr, double zi) = (fade * zc, fade * zs);
            (double ur, double ui) = (train.Decay * zr, train.Decay * zi);
            (double vr, double vi) = (power * mc, power * ms);
            double nr = 1 - ur;
            double ni = -ui;
            double norm = 1 / (nr * nr + ni * ni);
            // 1 / (1 - u)
            (double ir, double ii) = (nr * norm, -ni * norm);
            (double gr, double gi) = Times(1 - vr, -vi, ir, ii);
            (double fr, double fi) = Times(zr, zi, gr, gi);
            // Constant factor of all walls: -b e^{j phi} S.
            (double br, double bi) = Times(sr[k], si[k], -pc, -ps);
            (double hr, double hi) = Times(br, bi, fr, fi);
            double rr = wr[k] - train.Strength * hr;
            double ri = wi[k] - train.Strength * hi;
            squares += rr * rr + ri * ri;
            if (!gradient.IsEmpty)
            {
                // u g'(u) = [-M u^M + u (1 - u^M) / (1 - u)] / (1 - u)
                (double ugr, double ugi) = Times(ur, ui, gr, gi);
                (double dr, double di) = Times(ugr - echoes * vr, ugi - echoes * vi, ir, ii);
                // z dF/dz = z (g + u g').
                (double er, double ei) = Times(zr, zi, gr + dr, gi + di);
                (double qr, double qi) = Times(br, bi, er, ei);
                qr *= train.Strength;
                qi *= train.Strength;
                // By spacing: -j w z dF/dz.
                double byTauReal = omega * qi;
                double byTauImaginary = -omega * qr;
                cr[0] = byTauReal;
                ci[0] = byTauImaginary;
                cr[1] = hr;
                ci[1] = hi;
                int at = 2;
                if (echoes > 1)
                {
                    (double xr, double xi) = Times(zr, zi, dr, di);
                    (xr, xi) = Times(br, bi, xr, xi);
                    cr[at] = train.Strength * xr / train.Decay;
                    ci[at++] = train.Strength * xi / train.Decay;
                }
                if (phase)
                {
                    cr[at] = -train.Strength * hi;
                    ci[at++] = train.Strength * hr;
                }
                if (attenuation)
                {
                    double lever = -(omega - centre) / centre;
                    cr[at] = lever * qr;
                    ci[at] = lever * qi;
                }
                for (int p = 0; p < n; p++)
                {
                    gradient[p] += cr[p] * rr + ci[p] * ri;
                    for (int q = 0; q <= p; q++)
                        normal[p * n + q] += cr[p] * cr[q] + ci[p] * ci[q];
                }
            }
            (zc, zs) = (zc * dc - zs * ds, zs * dc + zc * ds);
            (mc, ms) = (mc * dmc - ms * dms, ms * dmc + mc * dms);
            fade *= fadeStep;
            power *= powerStep;
        }
        for (int p = 0; p < n; p++)
        for (int q = p + 1; q < n; q++)
            normal[p * n + q] = normal[q * n + p];
        return squares;
    }

    private static (double Real, double Imaginary) Times(double ar, double ai, double br, double bi) =>
        (ar * br - ai * bi, ar * bi + ai * br);
}
