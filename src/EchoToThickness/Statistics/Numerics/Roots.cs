namespace EchoToThickness.Statistics.Numerics;

/// <summary>Zeros and minima of functions of one variable.</summary>
internal static class Roots
{
    /// <summary>A zero between two points of opposite sign (bisection with the Illinois variant of false position).</summary>
    public static double Between(Func<double, double> function, double low, double high, double relative = 1e-10)
    {
        double atLow = function(low);
        double atHigh = function(high);
        if (atLow == 0)
            return low;
        if (atHigh == 0)
            return high;
        if (double.IsNaN(atLow) || double.IsNaN(atHigh) || atLow > 0 == atHigh > 0)
            return double.NaN;
        int side = 0;
        for (int k = 0; k < 200 && Math.Abs(high - low) > relative * (Math.Abs(low) + Math.Abs(high) + 1e-300); k++)
        {
            double middle = k % 3 == 2 ? 0.5 * (low + high) : (low * atHigh - high * atLow) / (atHigh - atLow);
            if (!(middle > Math.Min(low, high) && middle < Math.Max(low, high)))
                middle = 0.5 * (low + high);
            double at = function(middle);
            if (at == 0)
                return middle;
            if (at > 0 == atHigh > 0)
            {
                high = middle;
                atHigh = at;
                if (side == -1)
                    atLow /= 2;
                side = -1;
            }
            else
            {
                low = middle;
                atLow = at;
                if (side == 1)
                    atHigh /= 2;
                side = 1;
            }
        }
        return 0.5 * (low + high);
    }

    /// <summary>The smallest value of a function with one minimum between two points (golden section).</summary>
    public static double Minimum(Func<double, double> function, double low, double high, double relative = 1e-10)
    {
        const double golden = 0.6180339887498949;
        double a = high - golden * (high - low);
        double b = low + golden * (high - low);
        double atA = function(a);
        double atB = function(b);
        for (int k = 0; k < 200 && high - low > relative * (Math.Abs(low) + Math.Abs(high)); k++)
        {
            if (atA <= atB)
            {
                high = b;
                b = a;
                atB = atA;
                a = high - golden * (high - low);
                atA = function(a);
            }
            else
            {
                low = a;
                a = b;
                atA = atB;
                b = low + golden * (high - low);
                atB = function(b);
            }
        }
        return 0.5 * (low + high);
    }
}
