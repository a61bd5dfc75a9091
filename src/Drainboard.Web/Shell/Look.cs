using MudBlazor;

namespace Drainboard.Web.Shell;

/// <summary>The component library in our clothes. Colours come from look.css, where each theme sets the same few tokens.</summary>
public static class Look
{
    private static readonly string[] Font = ["Hyperlegible", "sans-serif"];

    public static MudTheme Theme { get; } = new()
    {
        Typography = new Typography
        {
            Default = new DefaultTypography { FontFamily = Font, FontSize = "17px", LineHeight = "1.4", LetterSpacing = "normal" },
            Button = new ButtonTypography { FontFamily = Font, FontSize = "17px", FontWeight = "600", TextTransform = "none", LetterSpacing = "normal" },
        },
        LayoutProperties = new LayoutProperties { DefaultBorderRadius = "10px" },
    };
}
