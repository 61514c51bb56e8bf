using System.Net;
using EchoToThickness.Workbench.Serving;
using EchoToThickness.Workbench.Sessions;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Connections;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;

namespace EchoToThickness.Workbench;

/// <summary>
/// Serves the page of one session on the loopback address. No configuration file and no environment variable is read: what is open to whom is decided here.
/// </summary>
public sealed class WorkbenchServer : IAsyncDisposable
{
    /// <summary>What the page may load and do: its own files and its own server, nothing else.</summary>
    public const string ContentSecurityPolicy =
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; "
        + "base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

    private readonly WebApplication _application;

    private WorkbenchServer(WebApplication application, int port, string token)
    {
        _application = application;
        Port = port;
        Url = new Uri($"http://127.0.0.1:{port}/{token}/");
    }

    /// <summary>Port on the loopback address.</summary>
    public int Port { get; }

    /// <summary>The page, with the secret that lets one in.</summary>
    public Uri Url { get; }

    /// <summary>Starts serving.</summary>
    /// <param name="session">An open session; it outlives the server.</param>
    /// <param name="report">Told of faults of the program, for the terminal; null for none.</param>
    /// <param name="cancellation">Stops the start.</param>
    /// <exception cref="WorkbenchException">The port is taken or may not be used.</exception>
    public static async Task<WorkbenchServer> StartAsync(
        WorkbenchSession session,
        Action<Exception>? report = null,
        CancellationToken cancellation = default
    )
    {
        ArgumentNullException.ThrowIfNull(session);
        WorkbenchOptions options = session.Options;
        WebApplicationBuilder builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore();
        builder.WebHost.ConfigureKestrel(kestrel => Limit(kestrel, options));
        WebApplication application = builder.Build();
        string token = RequestGuard.NewToken();
        var api = new WorkbenchApi(session);
        RequestGuard? guard = null;
        application.Run(context => HandleAsync(context, guard, api, report));
        try
        {
            await application.StartAsync(cancellation).ConfigureAwait(false);
        }
        catch (IOException error)
        {
            await application.DisposeAsync().ConfigureAwait(false);
            throw new WorkbenchException(
                error.InnerException is AddressInUseException
                    ? $"Port {options.Port} is taken by another program."
                    : $"Port {options.Port} cannot be used ({error.Message.TrimEnd('.')}).",
                "choose another with --port, or leave it out for any that is free."
            );
        }
        string address = application
            .Services.GetRequiredService<IServer>()
            .Features.Get<IServerAddressesFeature>()!
            .Addresses.First();
        int port = new Uri(address).Port;
        guard = new RequestGuard(token, port);
        return new WorkbenchServer(application, port, token);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(1));
        await _application.StopAsync(patience.Token).ConfigureAwait(false);
        await _application.DisposeAsync().ConfigureAwait(false);
    }

    private static void Limit(KestrelServerOptions kestrel, WorkbenchOptions options)
    {
        kestrel.Listen(IPAddress.Loopback, options.Port);
        kestrel.AddServerHeader = false;
        KestrelServerLimits limits = kestrel.Limits;
        limits.MaxRequestBodySize = options.LargestRequestBytes;
        limits.MaxRequestLineSize = 4096;
        limits.MaxRequestHeadersTotalSize = 16 * 1024;
        limits.MaxRequestHeaderCount = 64;
        limits.MaxConcurrentConnections = 64;
        limits.RequestHeadersTimeout = TimeSpan.FromSeconds(5);
        limits.KeepAliveTimeout = TimeSpan.FromMinutes(2);
        limits.MinRequestBodyDataRate = new MinDataRate(1000, TimeSpan.FromSeconds(2));
    }

    private static async Task HandleAsync(
        HttpContext context,
        RequestGuard? guard,
        WorkbenchApi api,
        Action<Exception>? report
    )
    {
        Protect(context.Response.Headers);
        string route = "";
        // A request before the port is known cannot have the right address.
        int refused = guard?.Check(context.Request, out route) ?? StatusCodes.Status421MisdirectedRequest;
        if (refused != 0)
        {
            context.Response.StatusCode = refused;
            return;
        }
        try
        {
            await api.AnswerAsync(context, route).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (context.RequestAborted.IsCancellationRequested)
        {
            return;
        }
        catch (Exception error)
        {
            if (
                error
                is not (
                    WorkbenchException
                    or Procedures.ProcedureException
                    or Stacks.StackFormatException
                    or Microsoft.AspNetCore.Http.BadHttpRequestException
                )
            )
                report?.Invoke(error);
            if (context.Response.HasStarted)
                context.Abort();
            else
                await WorkbenchApi.ExplainAsync(context, error).ConfigureAwait(false);
        }
    }

    private static void Protect(IHeaderDictionary headers)
    {
        headers.ContentSecurityPolicy = ContentSecurityPolicy;
        headers.XContentTypeOptions = "nosniff";
        headers.XFrameOptions = "DENY";
        headers.CacheControl = "no-store";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(), microphone=(), geolocation=()";
    }
}
