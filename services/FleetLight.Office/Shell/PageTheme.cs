using MudBlazor;

namespace FleetLight.Office.Shell;

/// <summary>
/// How the components of the office page look: paper and ink, flat, few colours. The same values stand in <c>base.css</c>; contrast of text on its ground
/// is at least 4.5 to 1 and of signs 3 to 1 (WCAG 2.2, 1.4.3 and 1.4.11).
/// </summary>
public static class PageTheme
{
    private static readonly string[] Fonts = ["system-ui", "-apple-system", "Segoe UI", "Noto Sans", "Liberation Sans", "sans-serif"];

    /// <summary>The theme, by day and by night.</summary>
    public static MudTheme Theme { get; } = new()
    {
        PaletteLight = new PaletteLight
        {
            Primary = "#1d4d4f",
            PrimaryContrastText = "#fffdf7",
            Secondary = "#14585b",
            SecondaryContrastText = "#fffdf7",
            Background = "#f5f2ea",
            Surface = "#fffdf7",
            TextPrimary = "#22282b",
            TextSecondary = "#555c5e",
            ActionDefault = "#22282b",
            LinesDefault = "#d8d2c2",
            LinesInputs = "#7d7a70",
            Divider = "#d8d2c2",
            Success = "#2b6a45",
            Warning = "#875400",
            Error = "#a3301c",
            Info = "#14585b",
        },
        PaletteDark = new PaletteDark
        {
            Primary = "#8ecfc8",
            PrimaryContrastText = "#10201f",
            Secondary = "#8ecfc8",
            SecondaryContrastText = "#10201f",
            Background = "#14191b",
            Surface = "#1c2326",
            TextPrimary = "#ece7db",
            TextSecondary = "#aeb3ae",
            ActionDefault = "#ece7db",
            LinesDefault = "#354044",
            LinesInputs = "#98a3a0",
            Divider = "#354044",
            Success = "#8fd0a5",
            Warning = "#edbd68",
            Error = "#f59a83",
            Info = "#8ecfc8",
        },
        LayoutProperties = new LayoutProperties { DefaultBorderRadius = "3px" },
        Typography = new Typography
        {
            Default = new DefaultTypography { FontFamily = Fonts, FontSize = "1rem", LineHeight = "1.45" },
            Button = new ButtonTypography { FontFamily = Fonts, FontSize = "1rem", FontWeight = "600", TextTransform = "none", LetterSpacing = "normal" },
        },
    };
}
