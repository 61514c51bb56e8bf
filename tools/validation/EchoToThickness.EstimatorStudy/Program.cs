using System.Globalization;
using EchoToThickness.EstimatorStudy;

// Estimators against the Cramer-Rao bound on an exact plate. Prints one Markdown row for each method, wall and signal-to-noise ratio.
// dotnet run -c Release --project tools/validation/EchoToThickness.EstimatorStudy -- records=10000 [walls=2,3 snr=15,30 methods=joint-fit]
try
{
    StudyOptions options = StudyOptions.Parse(args);
    var plate = new PlateRecord(options);
    string[] names = options.Methods.Count > 0 ? [.. options.Methods] : [.. MethodRun.Names];
    double eighth = PlateRecord.VelocityMetresPerSecond / options.FrequencyHz / 8;
    Console.WriteLine(
        "| method | wall mm | SNR dB | bound um | missing % | gross % | off > lambda/8 % | bias um | RMSE um (right) | RMSE/bound (right) | RMSE/bound (all) | RMSE/own bound | within 2 u % |"
    );
    Console.WriteLine("|---|---|---|---|---|---|---|---|---|---|---|---|---|");
    foreach (string name in names)
    {
        foreach (double millimetres in options.WallsMillimetres)
        foreach (double decibels in options.DecibelsOfFirstWall)
            Console.WriteLine(Row(name, millimetres, decibels));
        double seconds = new MethodRun(name, options).Seconds(plate);
        Console.Error.WriteLine(
            FormattableString.Invariant(
                $"{name}: {1e6 * seconds:0.0} us an A-scan, {1 / seconds:0} a second on one core"
            )
        );
    }
    return 0;

    string Row(string name, double millimetres, double decibels)
    {
        double wall = 1e-3 * millimetres;
        double bound = plate.BoundMetres(wall, decibels);
        var errors = new double[options.Records];
        var bounds = new double[options.Records];
        int chunk = (options.Records + options.Threads - 1) / options.Threads;
        var threads = new List<Thread>();
        for (int t = 0; t < options.Threads; t++)
        {
            int first = t * chunk;
            int end = Math.Min(options.Records, first + chunk);
            var thread = new Thread(() =>
            {
                var run = new MethodRun(name, options);
                for (int i = first; i < end; i++)
                {
                    double truth = plate.Make(run.Input, wall, decibels, (ulong)i);
                    (double measured, bounds[i]) = run.Measure();
                    errors[i] = measured - truth;
                }
            });
            thread.Start();
            threads.Add(thread);
        }
        threads.ForEach(thread => thread.Join());
        int missing = 0;
        int gross = 0;
        int wrong = 0;
        int within = 0;
        double sum = 0;
        double squares = 0;
        double all = 0;
        double own = 0;
        double limit = Math.Min(0.5e-3, 0.1 * wall);
        for (int i = 0; i < errors.Length; i++)
        {
            double error = errors[i];
            if (double.IsNaN(error))
            {
                missing++;
                continue;
            }
            all += error * error;
            gross += Math.Abs(error) > limit ? 1 : 0;
            if (Math.Abs(error) > eighth)
            {
                wrong++;
                continue;
            }
            sum += error;
            squares += error * error;
            own += error * error / (bounds[i] * bounds[i]);
            within += Math.Abs(error) <= 2 * bounds[i] ? 1 : 0;
        }
        int right = errors.Length - missing - wrong;
        double rmse = Math.Sqrt(squares / right);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"| {name} | {millimetres:0.##} | {decibels:0.#} | {1e6 * bound:0.000} | {100.0 * missing / errors.Length:0.00} | {100.0 * gross / errors.Length:0.00} | {100.0 * wrong / errors.Length:0.00} | {1e6 * sum / right:0.000} | {1e6 * rmse:0.000} | {rmse / bound:0.000} | {Math.Sqrt(all / (errors.Length - missing)) / bound:0.00} | {Math.Sqrt(own / right):0.000} | {100.0 * within / right:0.0} |"
        );
    }
}
catch (ArgumentException error)
{
    Console.Error.WriteLine(error.Message);
    return 2;
}
