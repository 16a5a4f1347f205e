using System.Buffers.Text;
using System.Net;
using System.Security.Cryptography;
using System.Text.Json;
using FleetLight.Testing.Service;

namespace FleetLight.Testing.People;

/// <summary>
/// A small OpenID Connect provider on this machine: it serves its discovery document and its public keys. What else one does is for
/// whoever derives from it.
/// </summary>
public class LocalProvider : IAsyncDisposable
{
    private readonly HttpListener listener = new();
    private readonly Task serving;
    private object[] served = [];

    /// <summary>Starts it.</summary>
    public LocalProvider()
    {
        int port = FreePort.Find();
        Address = $"http://127.0.0.1:{port}/people";
        listener.Prefixes.Add($"http://127.0.0.1:{port}/");
        listener.Start();
        serving = ServeAsync();
    }

    /// <summary>Its address, which is its name.</summary>
    public string Address { get; }

    /// <summary>How often its keys were asked for.</summary>
    public int KeysAsked { get; private set; }

    /// <summary>Whether it answers at all.</summary>
    public bool Answers { get; set; } = true;

    /// <summary>Serves the public parts of these keys from now on, each under its name.</summary>
    public void Serve(params (string Id, AsymmetricAlgorithm Key)[] keys) => served = [.. keys.Select(each => Public(each.Id, each.Key))];

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        listener.Close();
        await serving;
    }

    /// <summary>What the discovery document says.</summary>
    protected virtual Dictionary<string, string> Discovery => new() { ["issuer"] = Address, ["jwks_uri"] = $"{Address}/keys" };

    /// <summary>Answers what is neither discovery nor keys; false where it is not its own.</summary>
    protected virtual Task<bool> AnswerAsync(HttpListenerContext context) => Task.FromResult(false);

    /// <summary>Writes an answer.</summary>
    protected static void Write(HttpListenerContext context, object answer)
    {
        context.Response.ContentType = "application/json";
        context.Response.OutputStream.Write(JsonSerializer.SerializeToUtf8Bytes(answer));
    }

    private async Task ServeAsync()
    {
        while (true)
        {
            HttpListenerContext context;
            try
            {
                context = await listener.GetContextAsync();
            }
            catch (Exception closed) when (closed is HttpListenerException or ObjectDisposedException)
            {
                return;
            }

            // A page of another origin asks too.
            context.Response.AddHeader("Access-Control-Allow-Origin", "*");
            if (!Answers)
            {
                context.Response.StatusCode = 500;
            }
            else if (context.Request.Url!.AbsolutePath.EndsWith("/keys", StringComparison.Ordinal))
            {
                KeysAsked++;
                Write(context, new { keys = served });
            }
            else if (!await AnswerAsync(context))
            {
                Write(context, Discovery);
            }

            context.Response.Close();
        }
    }

    private static object Public(string id, AsymmetricAlgorithm key)
    {
        if (key is RSA rsa)
        {
            RSAParameters parts = rsa.ExportParameters(false);
            return new { kty = "RSA", use = "sig", kid = id, n = Base64Url.EncodeToString(parts.Modulus), e = Base64Url.EncodeToString(parts.Exponent) };
        }

        ECParameters curve = ((ECDsa)key).ExportParameters(false);
        return new { kty = "EC", use = "sig", kid = id, crv = "P-256", x = Base64Url.EncodeToString(curve.Q.X), y = Base64Url.EncodeToString(curve.Q.Y) };
    }
}
