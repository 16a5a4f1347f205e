using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Browsing;

/// <summary>The machine's own Chromium, headless; one for all tests, which each open windows of their own in it.</summary>
internal static class Browser
{
    private static readonly string[] Places = ["/usr/bin/chromium", "/usr/bin/chromium-browser"];

    private static readonly string[] Arguments =
    [
        "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync",
    ];

    // Far more than anything should take, also while other tests calculate beside: only a test that fails waits for it.
    private const int PatienceMilliseconds = 60_000;

    private static readonly Lazy<Task<IPlaywright>> Driver = new(StartAsync);

    private static readonly Lazy<Task<IBrowser>> Shared = new(LaunchAsync);

    /// <summary>Where the browser is. A test that needs it is skipped where there is none, and fails in CI.</summary>
    public static string? Path { get; } =
        Environment.GetEnvironmentVariable("FLEETLIGHT_TEST_CHROMIUM") is { Length: > 0 } given ? given : Array.Find(Places, File.Exists);

    /// <summary>A window with nothing kept from before.</summary>
    /// <param name="url">Where the service is.</param>
    /// <param name="screen">How large it is.</param>
    /// <param name="dark">Whether the person likes it dark.</param>
    public static async Task<IBrowserContext> OpenAsync(Uri url, Screen screen, bool dark = false) =>
        Patient(await (await BrowserAsync()).NewContextAsync(Options(url, screen, dark)));

    /// <summary>
    /// A browser of its own with what it keeps in a folder, so that it can be closed and opened again with what it kept: the way a
    /// phone's browser is ended and started.
    /// </summary>
    public static async Task<IBrowserContext> OpenKeepingAsync(string folder, Uri url, Screen screen)
    {
        SkipWithout();
        var options = Options(url, screen, false);
        return Patient(await (await Driver.Value).Chromium.LaunchPersistentContextAsync(folder, new BrowserTypeLaunchPersistentContextOptions
        {
            ExecutablePath = Path,
            Args = Arguments,
            BaseURL = options.BaseURL,
            ViewportSize = options.ViewportSize,
            DeviceScaleFactor = options.DeviceScaleFactor,
            HasTouch = options.HasTouch,
            IsMobile = options.IsMobile,
            Locale = options.Locale,
            TimezoneId = options.TimezoneId,
        }));
    }

    private static async Task<IPlaywright> StartAsync()
    {
        Assertions.SetDefaultExpectTimeout(PatienceMilliseconds);
        return await Playwright.CreateAsync();
    }

    private static IBrowserContext Patient(IBrowserContext window)
    {
        window.SetDefaultTimeout(PatienceMilliseconds);
        window.SetDefaultNavigationTimeout(PatienceMilliseconds);
        return window;
    }

    private static void SkipWithout()
    {
        if (Path is not null) return;
        const string Why = "There is no Chromium here; as root: apt-get install chromium";
        if (Environment.GetEnvironmentVariable("CI") == "true") Assert.Fail(Why);
        Assert.Skip(Why);
    }

    private static Task<IBrowser> BrowserAsync()
    {
        SkipWithout();
        return Shared.Value;
    }

    private static async Task<IBrowser> LaunchAsync() =>
        await (await Driver.Value).Chromium.LaunchAsync(new BrowserTypeLaunchOptions { ExecutablePath = Path, Args = Arguments });

    private static BrowserNewContextOptions Options(Uri url, Screen screen, bool dark) => new()
    {
        BaseURL = url.ToString(),
        ViewportSize = new ViewportSize { Width = screen.Width, Height = screen.Height },
        DeviceScaleFactor = screen.Touch ? 2 : 1,
        HasTouch = screen.Touch,
        IsMobile = screen.Touch,
        ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
        Locale = "en-GB",
        TimezoneId = "Europe/Berlin",
    };
}

/// <summary>How large a window is, in CSS pixels.</summary>
internal sealed record Screen(int Width, int Height, bool Touch)
{
    /// <summary>A phone held upright.</summary>
    public static Screen Phone { get; } = new(390, 844, true);

    /// <summary>An office's screen.</summary>
    public static Screen Desktop { get; } = new(1366, 900, false);
}
