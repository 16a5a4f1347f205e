namespace FleetLight.Handover.Html;

/// <summary>How the HTML file looks, on a screen and on paper.</summary>
internal static class PackStyle
{
    // Page numbers in the margins are of CSS Paged Media; a browser that does not know them prints its own.
    public const string Text =
        """
        :root { color-scheme: light; }
        * { box-sizing: border-box; }
        body { margin: 0; background: #fff; color: #000; font: 15px/1.45 system-ui, sans-serif; }
        main, footer { max-width: 62rem; margin: 0 auto; padding: 0 1rem; }
        h1 { font-size: 1.7rem; line-height: 1.2; margin: 1.5rem 0 .5rem; }
        h2 { font-size: 1.35rem; margin: 2.5rem 0 .75rem; padding-bottom: .2rem; border-bottom: 2px solid #000; }
        h3 { font-size: 1.05rem; margin: 1.25rem 0 .4rem; }
        p, ul, ol { margin: .4rem 0; }
        ul, ol { padding-left: 1.4rem; }
        a { color: #000; }
        .small, figcaption, footer { font-size: .85rem; color: #333; }
        .framed { border: 2px solid #000; padding: .5rem .9rem; margin: 1rem 0; }
        .framed h3 { margin-top: .2rem; }
        .wide { overflow-x: auto; margin: 1rem 0; }
        .wide:focus-visible, figure:focus-visible, pre:focus-visible { outline: 2px solid #000; }
        table { border-collapse: collapse; width: 100%; min-width: 44rem; font-size: .82rem; line-height: 1.3; }
        caption { text-align: left; font-weight: bold; font-size: 1rem; padding: .3rem 0; }
        th, td { white-space: pre-line; border-bottom: 1px solid #999; padding: .28rem .4rem; text-align: left; vertical-align: top; overflow-wrap: anywhere; }
        thead th { border-bottom: 2px solid #000; border-top: 1px solid #000; background: #eee; hyphens: manual; overflow-wrap: normal; }
        tbody th { font-weight: normal; }
        .figures { text-align: right; padding-right: .9rem; font-variant-numeric: tabular-nums; }
        figure { margin: .8rem 0; overflow-x: auto; }
        svg { max-width: 100%; height: auto; font-family: system-ui, sans-serif; }
        dl { margin: .6rem 0; }
        dl div { display: grid; grid-template-columns: 13rem 1fr; gap: .75rem; padding: .12rem 0; }
        dt { font-weight: bold; }
        dd { margin: 0; overflow-wrap: anywhere; }
        pre { max-height: 24rem; overflow: auto; font-size: .75rem; border: 1px solid #999; padding: .5rem; }
        footer { border-top: 1px solid #999; margin-top: 2rem; }
        @media (max-width: 40rem) { dl div { grid-template-columns: 1fr; gap: 0; } }
        @media screen and (max-width: 46rem) { svg { max-width: none; } }
        @page { margin: 16mm 14mm 18mm; @bottom-right { content: "Page " counter(page) " of " counter(pages); font: 8pt sans-serif; } }
        @media print {
          body { font-size: 9pt; line-height: 1.35; }
          h1 { margin-top: 0; }
          nav ol { columns: 2; }
          main, footer { max-width: none; padding: 0; }
          h2.page { break-before: page; margin-top: 0; }
          h2, h3, h3 + p, caption { break-after: avoid; }
          tbody tr:first-child { break-before: avoid; }
          thead { display: table-header-group; }
          tr, figure, .framed, dl div, li { break-inside: avoid; }
          table { min-width: 0; font-size: 7pt; }
          .wide, figure { overflow: visible; }
          svg { max-height: 225mm; }
          details { display: none; }
        }

        """;
}
