using System.Buffers.Binary;
using System.Text.Json;
using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Reporting.Explain;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;
using EchoToThickness.Studies.Review;
using EchoToThickness.Workbench.Measuring;
using EchoToThickness.Workbench.Sessions;
using Microsoft.AspNetCore.Http;

namespace EchoToThickness.Workbench.Serving;

/// <summary>What the page can ask for. Everything that measures or explains is the same public call that the command line makes.</summary>
internal sealed class WorkbenchApi(WorkbenchSession session)
{
    private const int MostDoubtful = 400;
    private const int MostChanged = 400;
    private const int MostSectionCells = 512;
    private const double SameMetres = 0.02e-3;

    private StackShape Shape => session.Source.Info.Shape;

    /// <summary>Answers a request that the guard let pass.</summary>
    public Task AnswerAsync(HttpContext context, string route)
    {
        bool post = HttpMethods.IsPost(context.Request.Method);
        return (route, post) switch
        {
            ("session", false) => Json(context, json => JsonParts.Session(json, session)),
            ("form", false) => Json(context, ProcedureForm.Write),
            ("truth", false) => TruthAsync(context),
            ("grid", false) => session.Grid is { } grid ? MapAsync(context, grid) : NotFound(context),
            ("doubtful", false) => Json(context, Doubtful),
            ("change", false) => Json(context, Change),
            ("document", false) => Locked(context, json => JsonParts.Document(json, session)),
            ("measure", true) => MeasureAsync(context),
            ("cell", true) => CellAsync(context),
            ("section", true) => SectionAsync(context),
            ("history", true) => HistoryAsync(context),
            ("save", true) => SaveAsync(context),
            ("reference", true) => ReferenceAsync(context),
            _ => Assets.TryGet(route, out byte[] bytes, out string type) && !post
                ? AssetAsync(context, bytes, type)
                : NotFound(context),
        };
    }

    /// <summary>Writes what went wrong in words, with a status that fits.</summary>
    public static Task ExplainAsync(HttpContext context, Exception error)
    {
        context.Response.StatusCode = error switch
        {
            BadHttpRequestException bad => bad.StatusCode,
            ProcedureException => StatusCodes.Status422UnprocessableEntity,
            WorkbenchException => StatusCodes.Status400BadRequest,
            StackFormatException => StatusCodes.Status409Conflict,
            _ => StatusCodes.Status500InternalServerError,
        };
        return Json(context, json => Fault(json, error));
    }

    private static void Fault(Utf8JsonWriter json, Exception error)
    {
        switch (error)
        {
            case ProcedureException procedure:
                JsonParts.Faults(json, procedure.Findings);
                break;
            case WorkbenchException told:
                JsonParts.Faults(json, [new ProcedureFinding("", told.What, told.Remedy)]);
                break;
            case StackFormatException or BadHttpRequestException:
                JsonParts.Faults(json, [new ProcedureFinding("", error.Message, "reload the page.")]);
                break;
            default:
                JsonParts.Faults(
                    json,
                    [
                        new ProcedureFinding(
                            "",
                            $"Something unexpected happened ({error.GetType().Name}).",
                            "this is a fault of the program; the terminal says more."
                        ),
                    ]
                );
                break;
        }
    }

    private async Task MeasureAsync(HttpContext context)
    {
        JsonElement body = await RequestBody.ReadAsync(context, session.Options).ConfigureAwait(false);
        MeasureRequest request = RequestBody.Measure(body, Shape.Scans);
        CancellationTokenSource running = session.Supersede(context.RequestAborted);
        try
        {
            // The one before was told to stop, and gives its turn up between two tiles.
            await session.Turn.WaitAsync(running.Token).ConfigureAwait(false);
            try
            {
                await StreamAsync(context, request, running.Token).ConfigureAwait(false);
            }
            finally
            {
                session.Turn.Release();
            }
        }
        catch (OperationCanceledException)
        {
            // Stale work: the page has asked for something newer, or is gone.
            context.Abort();
        }
        finally
        {
            session.Ended(running);
        }
    }

    private async Task StreamAsync(HttpContext context, MeasureRequest request, CancellationToken cancellation)
    {
        bool reference = request.ReferenceFile is not null;
        string fileName = request.ReferenceFile ?? session.ProcedureName ?? "procedure";
        string text;
        lock (session.Guard)
            text = reference
                ? request.ReferenceFile!.Length > 0
                    ? session.Folder.Read(request.ReferenceFile)
                    : ""
                : ProcedureEdit.Apply(session.History.Text, request.Edits);
        MeasureJob job = MeasureJob.Prepare(session.Source, text, fileName, request.Layers, session.Evidence);
        Procedure procedure = ProcedureText.Parse(text, fileName);
        if (request.Commit is { } label && !reference)
            lock (session.Guard)
                session.History.Push(text, label);
        context.Response.ContentType = "application/octet-stream";
        var frames = new FrameWriter(context.Response.BodyWriter);
        frames.Write(
            FrameWriter.Begin,
            JsonParts.Of(json =>
            {
                json.WriteBoolean("reused", job.Reused);
                JsonParts.Texts(json, "layers", job.Result.Layers.Select(GridLayers.NameOf));
                JsonParts.Plan(json, job.Plan, procedure, text);
                lock (session.Guard)
                    JsonParts.Document(json, session);
            })
        );
        await frames.FlushAsync(cancellation).ConfigureAwait(false);
        Task work = Task.Run(
            () => job.Run(session.Source, session.Evidence, request, session.Options.Threads, cancellation),
            CancellationToken.None
        );
        try
        {
            await SendAsync(job, frames, cancellation).ConfigureAwait(false);
        }
        catch (StackFormatException error)
        {
            frames.Write(FrameWriter.Fault, JsonParts.Of(json => Fault(json, error)));
            return;
        }
        finally
        {
            await work.ConfigureAwait(false);
        }
        if (reference)
            session.Reference = job.Result;
        else if (job.Result.Layers.Contains(GridLayer.Margin))
            session.Current = job.Result;
        frames.Write(FrameWriter.End, JsonParts.Of(json => json.WriteNumber("milliseconds", job.Milliseconds)));
        await frames.FlushAsync(cancellation).ConfigureAwait(false);
    }

    /// <summary>Sends tiles as they come, those that wait together at once.</summary>
    private static async Task SendAsync(MeasureJob job, FrameWriter frames, CancellationToken cancellation)
    {
        while (await job.Feed.Ready.WaitToReadAsync(cancellation).ConfigureAwait(false))
        {
            while (job.Feed.Ready.TryRead(out (int First, int Count) tile))
                frames.WriteTile(job.Result, tile.First, tile.Count);
            await frames.FlushAsync(cancellation).ConfigureAwait(false);
        }
    }

    private async Task CellAsync(HttpContext context)
    {
        JsonElement body = await RequestBody.ReadAsync(context, session.Options).ConfigureAwait(false);
        (int scan, int beam) = RequestBody.Cell(body, Shape.Scans, Shape.Beams);
        string text;
        lock (session.Guard)
            text = ProcedureEdit.Apply(session.History.Text, RequestBody.Edits(body));
        Procedure procedure = ProcedureText.Parse(text, session.ProcedureName ?? "procedure");
        MeasurementPlan plan = MeasurementPlan.Compile(procedure, session.Source.Info);
        var trace = new MeasurementTrace();
        trace.Result = MeasurementEngine.Explain(session.Source, plan, scan, beam, trace);
        // A cell without an A-scan leaves the trace before it says where it is.
        (trace.Scan, trace.Beam) = (scan, beam);
        IReadOnlyList<(string, double)> budget = CellBudget.Of(plan, trace.Result);
        await Json(
                context,
                json =>
                {
                    json.WritePropertyName("explained");
                    ExplainJson.Write(json, trace, plan, budget);
                    json.WriteString("page", ExplainPage.Of(trace, plan, budget));
                    json.WriteString(
                        "command",
                        ReplayCommand.Explain(session.Options, session.CommandName(session.ProcedureName), scan, beam)
                    );
                    JsonParts.Number(json, "wrongEchoProbability", trace.Result.WrongEchoProbability);
                    JsonParts.Number(json, "candidateLevelFraction", trace.CandidateLevelFraction);
                    json.WriteNumber("pairFrom", trace.Result.PairedOrders & 0xF);
                    json.WriteNumber("pairTo", trace.Result.PairedOrders >> 4);
                    JsonParts.Number(
                        json,
                        "sampleRateHz",
                        trace.SampleRateHz > 0 ? trace.SampleRateHz : plan.Stack.TimeBase.SampleRateHz
                    );
                    JsonParts.Number(json, "startSeconds", plan.Stack.TimeBase.StartOf(beam));
                    JsonParts.Number(json, "zeroSeconds", plan.Velocity.ZeroSeconds + plan.Velocity.CoatingSeconds);
                    Singles(json, "raw", trace.Raw);
                    Singles(json, "signal", trace.Signal);
                    Singles(json, "envelope", trace.Envelope);
                }
            )
            .ConfigureAwait(false);
    }

    /// <summary>A section along the scan or across it: stored samples of the cells about one, -127 to 127 for full scale.</summary>
    private async Task SectionAsync(HttpContext context)
    {
        JsonElement body = await RequestBody.ReadAsync(context, session.Options).ConfigureAwait(false);
        (int scan, int beam) = RequestBody.Cell(body, Shape.Scans, Shape.Beams);
        bool along = RequestBody.Text(body, "axis", 8) == "scan";
        int cells = Math.Clamp(RequestBody.Whole(body, "cells", 161), 1, MostSectionCells);
        int length = along ? Shape.Scans : Shape.Beams;
        int first = Math.Clamp((along ? scan : beam) - cells / 2, 0, Math.Max(0, length - cells));
        int count = Math.Min(cells, length - first);
        byte[] samples = Samples(along, scan, beam, first, count);
        var frames = new FrameWriter(context.Response.BodyWriter);
        context.Response.ContentType = "application/octet-stream";
        frames.Write(
            FrameWriter.Begin,
            JsonParts.Of(json =>
            {
                json.WriteNumber("first", first);
                json.WriteNumber("count", count);
                json.WriteNumber("samples", Shape.Samples);
            })
        );
        frames.Write(FrameWriter.Samples, samples);
        await frames.FlushAsync(context.RequestAborted).ConfigureAwait(false);
    }

    private byte[] Samples(bool along, int scan, int beam, int first, int count)
    {
        StackInfo stack = session.Source.Info;
        var bytes = new byte[count * Shape.Samples];
        var fractions = new float[Shape.Samples];
        using IAScanReader reader = session.Source.OpenReader();
        for (int i = 0; i < count; i++)
        {
            AScanBlock block = along ? reader.Lend(first + i, 1, beam, 1) : reader.Lend(scan, 1, first + i, 1);
            Span<byte> row = bytes.AsSpan(i * Shape.Samples, Shape.Samples);
            if (!block.IsPresent(0, 0))
            {
                row.Fill(unchecked((byte)sbyte.MinValue));
                continue;
            }
            StoredSamples.ToFractions(
                block.AScanBytes(0, 0),
                stack.SampleType,
                stack.Amplitude,
                fractions,
                KernelPaths.Best
            );
            for (int k = 0; k < row.Length; k++)
                row[k] = unchecked(
                    (byte)(sbyte)(float.IsFinite(fractions[k]) ? Math.Clamp(127 * fractions[k], -127, 127) : 0)
                );
        }
        return bytes;
    }

    private async Task HistoryAsync(HttpContext context)
    {
        JsonElement body = await RequestBody.ReadAsync(context, session.Options).ConfigureAwait(false);
        int step = RequestBody.Whole(body, "step", 0);
        lock (session.Guard)
            session.History.Step(Math.Clamp(step, -1, 1));
        await Locked(context, json => JsonParts.Document(json, session)).ConfigureAwait(false);
    }

    private async Task SaveAsync(HttpContext context)
    {
        JsonElement body = await RequestBody.ReadAsync(context, session.Options).ConfigureAwait(false);
        string name =
            RequestBody.Text(body, "name", 200)
            ?? throw new WorkbenchException("The file has no name.", "give one that ends with .toml.");
        lock (session.Guard)
        {
            string text = session.History.Text;
            bool own = name == session.ProcedureName;
            session.Folder.Write(name, text, own || RequestBody.Flag(body, "replace"));
            session.ProcedureName = name;
            session.History.MarkSaved();
        }
        await Locked(context, json => JsonParts.Document(json, session)).ConfigureAwait(false);
    }

    /// <summary>Makes the map that was measured last, or the grid of the command line, the one to compare with.</summary>
    private async Task ReferenceAsync(HttpContext context)
    {
        JsonElement body = await RequestBody.ReadAsync(context, session.Options).ConfigureAwait(false);
        MapResult? map = RequestBody.Text(body, "from", 20) switch
        {
            "current" => session.Current,
            "grid" => session.Grid,
            _ => null,
        };
        session.Reference =
            map
            ?? throw new WorkbenchException(
                "There is no such map yet.",
                "wait until the map is measured, then try again."
            );
        await MapAsync(context, map).ConfigureAwait(false);
    }

    private void Doubtful(Utf8JsonWriter json)
    {
        IReadOnlyList<DoubtfulCell> cells = session.Current is not { } map
            ? []
            : DoubtfulCells.Find(
                map.Scans,
                map.Beams,
                map[GridLayer.Thickness],
                map.Status,
                map[GridLayer.Margin],
                map[GridLayer.WrongEchoProbability],
                session.Source.Info.Neighbours,
                new DoubtRules()
            );
        JsonParts.Doubtful(json, cells, MostDoubtful);
    }

    private void Change(Utf8JsonWriter json)
    {
        if (session.Current is not { } map || session.Reference is not { } reference)
            throw new WorkbenchException("There are no two maps to compare.", "choose a map to compare with first.");
        JsonParts.Change(
            json,
            MapChange.Between(
                reference[GridLayer.Thickness],
                reference.Status,
                map[GridLayer.Thickness],
                map.Status,
                SameMetres,
                MostChanged
            )
        );
    }

    private async Task TruthAsync(HttpContext context)
    {
        if (session.Truth is not { } truth)
        {
            await NotFound(context).ConfigureAwait(false);
            return;
        }
        var metres = new double[Shape.Cells];
        truth.ReadTruth("thickness", 0, Shape.Scans, metres);
        var map = new MapResult(Shape.Scans, Shape.Beams, [GridLayer.Thickness], "");
        for (int cell = 0; cell < metres.Length; cell++)
            map[GridLayer.Thickness][cell] = (float)metres[cell];
        await MapAsync(context, map).ConfigureAwait(false);
    }

    private static async Task MapAsync(HttpContext context, MapResult map)
    {
        context.Response.ContentType = "application/octet-stream";
        var frames = new FrameWriter(context.Response.BodyWriter);
        frames.Write(
            FrameWriter.Begin,
            JsonParts.Of(json => JsonParts.Texts(json, "layers", [GridLayers.NameOf(GridLayer.Thickness)]))
        );
        var walls = new MapResult(map.Scans, map.Beams, [GridLayer.Thickness], map.Text);
        map[GridLayer.Thickness].CopyTo(walls[GridLayer.Thickness], 0);
        map.Status.CopyTo(walls.Status, 0);
        frames.WriteTile(walls, 0, map.Scans);
        await frames.FlushAsync(context.RequestAborted).ConfigureAwait(false);
    }

    private static void Singles(Utf8JsonWriter json, string name, float[] values)
    {
        var bytes = new byte[4 * values.Length];
        for (int i = 0; i < values.Length; i++)
            BinaryPrimitives.WriteSingleLittleEndian(bytes.AsSpan(4 * i), values[i]);
        json.WriteBase64String(name, bytes);
    }

    private Task Locked(HttpContext context, Action<Utf8JsonWriter> write)
    {
        byte[] bytes;
        lock (session.Guard)
            bytes = JsonParts.Of(write);
        return AssetAsync(context, bytes, "application/json");
    }

    private static Task Json(HttpContext context, Action<Utf8JsonWriter> write) =>
        AssetAsync(context, JsonParts.Of(write), "application/json");

    private static Task AssetAsync(HttpContext context, byte[] bytes, string type)
    {
        context.Response.ContentType = type;
        context.Response.ContentLength = bytes.Length;
        return context.Response.Body.WriteAsync(bytes, context.RequestAborted).AsTask();
    }

    private static Task NotFound(HttpContext context)
    {
        context.Response.StatusCode = StatusCodes.Status404NotFound;
        return Task.CompletedTask;
    }
}
