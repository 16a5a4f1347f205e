using FleetLight.PageParts.Drawings;

namespace FleetLight.Handover.Pictures;

/// <summary>What is drawn: black and shades of grey, so that nothing is told by colour. CSS pixels, a 96th of an inch.</summary>
/// <param name="Title">What it shows.</param>
/// <param name="Says">The same in words, for whoever cannot see it.</param>
/// <param name="Width">Width, CSS pixels.</param>
/// <param name="Height">Height, CSS pixels.</param>
/// <param name="Shapes">What is drawn, the last on top.</param>
public sealed record Picture(string Title, string Says, double Width, double Height, IReadOnlyList<Shape> Shapes);

/// <summary>A piece of a picture.</summary>
public abstract record Shape;

/// <summary>How dark something is.</summary>
public enum Ink
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>White.</summary>
    White,

    /// <summary>Light grey, for grounds.</summary>
    Light,

    /// <summary>Grey, for what stands back; as text dark enough to be read.</summary>
    Grey,

    /// <summary>Black.</summary>
    Black,
}

/// <summary>A line of straight pieces.</summary>
/// <param name="Points">Where it goes.</param>
/// <param name="Line">Its ink.</param>
/// <param name="Width">Its width, CSS pixels.</param>
/// <param name="Closed">Whether it returns to where it began.</param>
/// <param name="Fill">What is within.</param>
/// <param name="Dashes">Lengths of dashes and gaps, CSS pixels; none for an unbroken line.</param>
public sealed record Way(
    IReadOnlyList<Point> Points, Ink Line = Ink.Black, double Width = 1.2, bool Closed = false, Ink Fill = Ink.None, IReadOnlyList<double>? Dashes = null) : Shape;

/// <summary>A circle.</summary>
/// <param name="Centre">Its middle.</param>
/// <param name="Radius">Its radius, CSS pixels.</param>
/// <param name="Line">Its ink.</param>
/// <param name="Width">Width of the line, CSS pixels.</param>
/// <param name="Fill">What is within.</param>
public sealed record Ring(Point Centre, double Radius, Ink Line = Ink.Black, double Width = 1.2, Ink Fill = Ink.None) : Shape;

/// <summary>How a text stands to its point.</summary>
public enum Stand
{
    /// <summary>It begins there.</summary>
    Begins,

    /// <summary>Its middle is there.</summary>
    Middle,
}

/// <summary>A line of text.</summary>
/// <param name="At">The point on its base line.</param>
/// <param name="Text">What it says.</param>
/// <param name="Size">Height of the font, CSS pixels.</param>
/// <param name="Stand">How it stands to the point.</param>
/// <param name="Bold">Whether it is bold.</param>
/// <param name="Ink">Its ink.</param>
public sealed record Lettering(Point At, string Text, double Size = 11, Stand Stand = Stand.Begins, bool Bold = false, Ink Ink = Ink.Black) : Shape;
