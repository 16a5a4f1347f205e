using FleetLight.Handover.Pictures;

namespace FleetLight.Handover.Blocks;

/// <summary>A piece of the document: what is said, not how it is laid out.</summary>
public abstract record Block;

/// <summary>A heading.</summary>
/// <param name="Level">1 for a part of the document, which stands in the list of contents; 2 below it.</param>
/// <param name="Text">What it says.</param>
/// <param name="NewPage">Whether a page begins with it.</param>
public sealed record Heading(int Level, string Text, bool NewPage = false) : Block;

/// <summary>A paragraph.</summary>
/// <param name="Text">What it says.</param>
/// <param name="Small">Whether it is a remark beside the matter.</param>
public sealed record Prose(string Text, bool Small = false) : Block;

/// <summary>Points, one below the other.</summary>
/// <param name="Items">What they say.</param>
public sealed record Points(IReadOnlyList<string> Items) : Block;

/// <summary>A frame around what has to be minded.</summary>
/// <param name="Title">What it is about.</param>
/// <param name="Items">What it says.</param>
public sealed record Framed(string Title, IReadOnlyList<string> Items) : Block;

/// <summary>Names with what is said of each.</summary>
/// <param name="Items">The names.</param>
public sealed record Pairs(IReadOnlyList<(string Name, string Says)> Items) : Block;

/// <summary>A column of a table.</summary>
/// <param name="Title">Its head.</param>
/// <param name="Share">How much of the width it takes beside the others, no unit.</param>
/// <param name="Figures">Whether it holds figures, which stand to the right.</param>
public sealed record Column(string Title, double Share, bool Figures = false);

/// <summary>A table. Its head is repeated on every page, and no row is split.</summary>
/// <param name="Title">What it shows.</param>
/// <param name="Columns">Its columns.</param>
/// <param name="Rows">Its rows, each with a text for each column.</param>
/// <param name="None">What is said where it has no row.</param>
public sealed record Grid(string Title, IReadOnlyList<Column> Columns, IReadOnlyList<IReadOnlyList<string>> Rows, string None) : Block;

/// <summary>A drawing.</summary>
/// <param name="Picture">What is drawn.</param>
/// <param name="Caption">What stands below it.</param>
public sealed record Figure(Picture Picture, string Caption) : Block;

/// <summary>The list of the parts of the document.</summary>
public sealed record Contents : Block;

/// <summary>Text that goes along as a file, to be checked by programs.</summary>
/// <param name="Name">What the file is called.</param>
/// <param name="Says">What it is, in a few words.</param>
/// <param name="Text">The text.</param>
public sealed record Attached(string Name, string Says, string Text) : Block;

/// <summary>A document.</summary>
/// <param name="Title">What it is.</param>
/// <param name="Under">What stands at the foot of every page.</param>
/// <param name="Blocks">Its pieces, in order.</param>
public sealed record PackDocument(string Title, string Under, IReadOnlyList<Block> Blocks);
