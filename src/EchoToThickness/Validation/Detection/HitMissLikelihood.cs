using EchoToThickness.Statistics.Numerics;
using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Detection;

/// <summary>Likelihood of hits and misses, with a predictor <c>b0 + b1 x</c>, plain or with Firth's penalty.</summary>
internal sealed class HitMissLikelihood(double[] x, bool[] hit, DetectionLink link, bool penalised)
{
    /// <summary>Log-likelihood of one look, its derivative by the predictor, and the expected information.</summary>
    public (double Log, double Slope, double Information) Look(double eta, bool isHit)
    {
        if (link == DetectionLink.Logit)
        {
            double p = 1 / (1 + Math.Exp(-eta));
            double signed = isHit ? eta : -eta;
            double log = signed > 0 ? -double.LogP1(Math.Exp(-signed)) : signed - double.LogP1(Math.Exp(signed));
            return (log, (isHit ? 1 : 0) - p, p / (1 + Math.Exp(eta)));
        }
        double side = isHit ? eta : -eta;
        double ratio = NormalTail.MillsInverse(side);
        double other = NormalTail.MillsInverse(-side);
        return (NormalTail.LogBelow(side), isHit ? ratio : -ratio, ratio * other);
    }

    public double Value(double b0, double b1)
    {
        double sum = 0;
        for (int i = 0; i < x.Length; i++)
            sum += Look(b0 + b1 * x[i], hit[i]).Log;
        return penalised ? sum + 0.5 * Math.Log(Determinant(Information(b0, b1))) : sum;
    }

    public double[,] Information(double b0, double b1)
    {
        var sum = new double[2, 2];
        for (int i = 0; i < x.Length; i++)
        {
            double w = Look(b0 + b1 * x[i], hit[i]).Information;
            sum[0, 0] += w;
            sum[0, 1] += w * x[i];
            sum[1, 1] += w * x[i] * x[i];
        }
        sum[1, 0] = sum[0, 1];
        return sum;
    }

    /// <summary>Scores of one look.</summary>
    public (double, double) Score(int i, double b0, double b1)
    {
        double s = Look(b0 + b1 * x[i], hit[i]).Slope;
        return (s, s * x[i]);
    }

    /// <summary>Fisher scoring with halved steps; false when it does not settle.</summary>
    public bool Maximise(out double b0, out double b1, out double value)
    {
        int hits = hit.Count(h => h);
        double share = (hits + 0.5) / (x.Length + 1.0);
        b0 = link == DetectionLink.Logit ? Math.Log(share / (1 - share)) : NormalDistribution.Quantile(share);
        b1 = 0;
        value = Value(b0, b1);
        for (int iteration = 0; iteration < 100; iteration++)
        {
            double[,] information = Information(b0, b1);
            double det = Determinant(information);
            if (!(det > 0))
                return false;
            double g0 = 0;
            double g1 = 0;
            for (int i = 0; i < x.Length; i++)
            {
                double eta = b0 + b1 * x[i];
                (_, double slope, double w) = Look(eta, hit[i]);
                if (penalised)
                {
                    // h_i (1/2 - p_i), with h_i the leverage.
                    double lever =
                        w * (information[1, 1] - 2 * x[i] * information[0, 1] + x[i] * x[i] * information[0, 0]) / det;
                    slope += lever * (0.5 - 1 / (1 + Math.Exp(-eta)));
                }
                g0 += slope;
                g1 += slope * x[i];
            }
            double s0 = (information[1, 1] * g0 - information[0, 1] * g1) / det;
            double s1 = (information[0, 0] * g1 - information[0, 1] * g0) / det;
            double part = 1;
            double next = Value(b0 + s0, b1 + s1);
            while (!(next >= value - 1e-13 * Math.Abs(value)) && part > 1e-10)
            {
                part /= 2;
                next = Value(b0 + part * s0, b1 + part * s1);
            }
            b0 += part * s0;
            b1 += part * s1;
            value = next;
            if (Math.Abs(s0) <= 1e-11 * (1 + Math.Abs(b0)) && Math.Abs(s1) <= 1e-11 * (1 + Math.Abs(b1)))
                return true;
            if (Math.Abs(b0) > 1e6 || Math.Abs(b1) > 1e6)
                return false;
        }
        return false;
    }

    /// <summary>Greatest likelihood of lines that pass through a point: the predictor is <paramref name="eta"/> at <paramref name="at"/>.</summary>
    public double Through(double at, double eta, double startSlope)
    {
        double b = startSlope;
        if (penalised)
        {
            double wide = 4 * Math.Abs(startSlope) + 4;
            double best = Roots.Minimum(s => -Value(eta - s * at, s), -wide, wide, 1e-9);
            return Value(eta - best * at, best);
        }
        double value = Value(eta - b * at, b);
        for (int iteration = 0; iteration < 100; iteration++)
        {
            double g = 0;
            double information = 0;
            for (int i = 0; i < x.Length; i++)
            {
                double off = x[i] - at;
                (_, double slope, double w) = Look(eta + b * off, hit[i]);
                g += slope * off;
                information += w * off * off;
            }
            if (!(information > 1e-300))
                break;
            double step = g / information;
            double part = 1;
            double next = Value(eta - (b + step) * at, b + step);
            while (!(next >= value - 1e-13 * Math.Abs(value)) && part > 1e-10)
            {
                part /= 2;
                next = Value(eta - (b + part * step) * at, b + part * step);
            }
            b += part * step;
            value = next;
            if (g * step <= 1e-15 * (1 + Math.Abs(value)))
                break;
        }
        return value;
    }

    public static double Determinant(double[,] m) => m[0, 0] * m[1, 1] - m[0, 1] * m[1, 0];
}
