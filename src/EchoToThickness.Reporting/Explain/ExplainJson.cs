using System.Text;
using System.Text.Json;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;

namespace EchoToThickness.Reporting.Explain;

/// <summary>One cell's decisions as JSON: SI units, names that carry them, null where there is no number.</summary>
public static class ExplainJson
{
    /// <summary>The object as text, indented, ended by a line feed.</summary>
    /// <param name="trace">Every decision about the cell.</param>
    /// <param name="plan">The plan it was measured with.</param>
    /// <param name="budget">Rows of <see cref="CellBudget"/>.</param>
    public static string Of(
        MeasurementTrace trace,
        MeasurementPlan plan,
        IReadOnlyList<(string Source, double Metres)> budget
    )
    {
        using var text = new MemoryStream();
        using (var json = new Utf8JsonWriter(text, new JsonWriterOptions { Indented = true }))
            Write(json, trace, plan, budget);
        return Encoding.UTF8.GetString(text.ToArray()) + "\n";
    }

    /// <summary>Writes the object.</summary>
    /// <param name="json">Takes it.</param>
    /// <param name="trace">Every decision about the cell.</param>
    /// <param name="plan">The plan it was measured with.</param>
    /// <param name="budget">Rows of <see cref="CellBudget"/>.</param>
    public static void Write(
        Utf8JsonWriter json,
        MeasurementTrace trace,
        MeasurementPlan plan,
        IReadOnlyList<(string Source, double Metres)> budget
    )
    {
        ArgumentNullException.ThrowIfNull(json);
        ArgumentNullException.ThrowIfNull(trace);
        ArgumentNullException.ThrowIfNull(plan);
        json.WriteStartObject();
        json.WriteString("stack", plan.Stack.Name);
        json.WriteNumber("scan", trace.Scan);
        json.WriteNumber("beam", trace.Beam);
        Result(json, trace.Result);
        json.WriteStartObject("interface");
        Number(json, "seconds", trace.Interface.Seconds);
        Number(json, "amplitude_fraction", trace.Interface.AmplitudeFraction);
        Number(json, "level_fraction", trace.Interface.LevelFraction);
        Number(json, "search_start_seconds", trace.Interface.SearchStartSeconds);
        Number(json, "search_end_seconds", trace.Interface.SearchEndSeconds);
        json.WriteBoolean("tracked", trace.Interface.Tracked);
        json.WriteEndObject();
        Number(json, "noise_fraction", trace.NoiseFraction);
        List(json, "gates", trace.Gates, Gate);
        List(json, "echoes", trace.Echoes, Echo);
        List(json, "hypotheses", trace.Hypotheses, Hypothesis);
        List(
            json,
            "steps",
            trace.Steps,
            (writer, step) =>
            {
                writer.WriteString("stage", step.Stage);
                writer.WriteString("text", step.Text);
            }
        );
        json.WriteStartObject("velocity");
        Number(json, "metres_per_second", plan.Velocity.MetresPerSecond);
        Number(json, "uncertainty_metres_per_second", plan.Velocity.UncertaintyMetresPerSecond);
        json.WriteString("source", plan.Velocity.Source);
        json.WriteEndObject();
        List(
            json,
            "uncertainty_budget",
            budget,
            (writer, row) =>
            {
                writer.WriteString("source", row.Source);
                Number(writer, "standard_uncertainty_metres", row.Metres);
            }
        );
        json.WriteEndObject();
    }

    private static void Result(Utf8JsonWriter json, in CellResult result)
    {
        json.WriteString("status", result.Status.ToString());
        json.WriteStartArray("notes");
        CellNotes all = result.Notes;
        foreach (CellNotes note in Enum.GetValues<CellNotes>().Where(n => n != CellNotes.None && all.HasFlag(n)))
            json.WriteStringValue(note.ToString());
        json.WriteEndArray();
        Number(json, "thickness_metres", result.ThicknessMetres);
        Number(json, "uncertainty_metres", result.UncertaintyMetres);
        Number(json, "uncertainty_noise_metres", result.UncertaintyNoiseMetres);
        Number(json, "uncertainty_calibration_metres", result.UncertaintyCalibrationMetres);
        Number(json, "interface_seconds", result.InterfaceSeconds);
        Number(json, "first_echo_seconds", result.FirstEchoSeconds);
        Number(json, "second_echo_seconds", result.SecondEchoSeconds);
        Number(json, "thickness_interface_wall_metres", result.ThicknessInterfaceWallMetres);
        Number(json, "thickness_wall_wall_metres", result.ThicknessWallWallMetres);
        Number(json, "reflector_depth_metres", result.ReflectorDepthMetres);
        Number(json, "snr_decibels", result.SignalToNoiseDecibels);
        Number(json, "margin", result.Margin);
        Number(json, "runner_up_thickness_metres", result.RunnerUpThicknessMetres);
    }

    private static void Gate(Utf8JsonWriter json, GateTrace gate)
    {
        json.WriteString("name", gate.Name);
        Number(json, "start_seconds", gate.StartSeconds);
        Number(json, "end_seconds", gate.EndSeconds);
        Number(json, "level_fraction", gate.LevelFraction);
        Number(json, "echo_seconds", gate.EchoSeconds);
        Number(json, "echo_amplitude_fraction", gate.EchoAmplitudeFraction);
    }

    private static void Echo(Utf8JsonWriter json, EchoTrace echo)
    {
        Number(json, "seconds", echo.Seconds);
        Number(json, "amplitude_fraction", echo.AmplitudeFraction);
        json.WriteNumber("polarity", echo.Polarity);
        Number(json, "width_seconds", echo.WidthSeconds);
        Number(json, "snr_decibels", echo.SignalToNoiseDecibels);
        json.WriteString("role", echo.Role);
        json.WriteBoolean("paired", echo.Paired);
    }

    private static void Hypothesis(Utf8JsonWriter json, HypothesisTrace hypothesis)
    {
        json.WriteString("name", hypothesis.Name);
        Number(json, "thickness_metres", hypothesis.ThicknessMetres);
        Number(json, "score", hypothesis.Score);
        json.WriteString("reason", hypothesis.Reason);
    }

    private static void List<T>(Utf8JsonWriter json, string name, IEnumerable<T> items, Action<Utf8JsonWriter, T> write)
    {
        json.WriteStartArray(name);
        foreach (T item in items)
        {
            json.WriteStartObject();
            write(json, item);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void Number(Utf8JsonWriter json, string name, double value)
    {
        if (double.IsFinite(value))
            json.WriteNumber(name, value);
        else
            json.WriteNull(name);
    }
}
