using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Http;

namespace EchoToThickness.Workbench.Serving;

/// <summary>
/// Lets in only the page itself: the secret of the URL must be right, the request must have been sent to this very address (so that a
/// foreign name that resolves to the loopback address is no way in), and a browser that names an origin must name this one.
/// </summary>
internal sealed class RequestGuard
{
    private readonly byte[] _token;
    private readonly string[] _hosts;

    public RequestGuard(string token, int port)
    {
        _token = Encoding.ASCII.GetBytes(token);
        _hosts = [$"127.0.0.1:{port}", $"localhost:{port}", $"[::1]:{port}"];
    }

    /// <summary>256 random bits, in letters that a URL takes as they are.</summary>
    public static string NewToken() =>
        Convert.ToBase64String(RandomNumberGenerator.GetBytes(32)).TrimEnd('=').Replace('+', '-').Replace('/', '_');

    /// <summary>Checks a request.</summary>
    /// <param name="request">The request.</param>
    /// <param name="route">What follows the secret, without its slash.</param>
    /// <returns>The status to refuse it with; 0 when it may pass.</returns>
    public int Check(HttpRequest request, out string route)
    {
        route = "";
        string host = request.Host.Value ?? "";
        if (!_hosts.Contains(host, StringComparer.OrdinalIgnoreCase))
            return StatusCodes.Status421MisdirectedRequest;
        bool post = HttpMethods.IsPost(request.Method);
        if (!post && !HttpMethods.IsGet(request.Method))
            return StatusCodes.Status405MethodNotAllowed;
        string? origin = request.Headers.Origin;
        // A browser always names the origin of a POST; anything that does not is no page of ours.
        if (
            (post || origin is not null) && !string.Equals(origin, "http://" + host, StringComparison.OrdinalIgnoreCase)
        )
            return StatusCodes.Status403Forbidden;
        string? site = request.Headers["Sec-Fetch-Site"];
        if (site is not null and not "same-origin" && (post || site != "none"))
            return StatusCodes.Status403Forbidden;
        if (post && request.ContentType?.Split(';')[0].Trim() != "application/json")
            return StatusCodes.Status415UnsupportedMediaType;
        string path = request.Path.Value ?? "";
        int slash = path.IndexOf('/', 1 <= path.Length ? 1 : 0);
        byte[] given = Encoding.UTF8.GetBytes(slash < 0 ? path.TrimStart('/') : path[1..slash]);
        if (slash < 0 || !CryptographicOperations.FixedTimeEquals(given, _token))
            return StatusCodes.Status404NotFound;
        route = path[(slash + 1)..];
        return 0;
    }
}
