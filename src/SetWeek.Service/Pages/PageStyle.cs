namespace SetWeek.Service.Pages;

/// <summary>The style sheet of all pages: A4 when printed, one column on a phone, black on white.</summary>
internal static class PageStyle
{
    public static readonly Html Sheet = new("""
        @page { size: A4; margin: 14mm 14mm 16mm }
        * { box-sizing: border-box }
        body { margin: 0 auto; padding: 1rem; max-width: 48rem; color: #111; background: #fff;
               font: 1rem/1.45 Charter, "Bitstream Charter", Cambria, Georgia, serif }
        h1 { font-size: 1.7rem; line-height: 1.15; margin: 0 0 .3rem }
        h2 { font-size: 1.35rem; line-height: 1.2; margin: 0 0 .2rem; padding-top: .5rem; border-top: 3px solid #111 }
        h3 { font-size: 1rem; margin: 0 }
        p { margin: 0 0 .5rem }
        .quiet { color: #444 }
        nav ul { display: flex; flex-wrap: wrap; gap: .3rem .9rem; list-style: none; margin: .6rem 0 1.2rem; padding: 0 }
        a { color: inherit }
        .why { white-space: nowrap }
        section { margin: 0 0 2rem }
        table { border-collapse: collapse; width: 100%; margin: .5rem 0 1rem; font-variant-numeric: tabular-nums }
        caption { text-align: left; font-weight: 700; padding: .2rem 0 }
        th, td { text-align: left; vertical-align: top; padding: .2rem .7rem .2rem 0; border-bottom: 1px solid #bbb;
                 font-weight: 400 }
        thead th { font-size: .85rem; color: #444 }
        ol.work { list-style: none; margin: 0; padding: 0 }
        ol.work > li { display: grid; grid-template-columns: 7.5rem 1fr; gap: 0 .8rem; padding: .45rem 0;
                         border-bottom: 1px solid #bbb; break-inside: avoid }
        .time { font-variant-numeric: tabular-nums; font-weight: 700 }
        .cautions { margin: .25rem 0 0; padding-left: .6rem; border-left: 4px solid #111; list-style: none }
        details { margin: .25rem 0 0 }
        summary { cursor: pointer; color: #444; font-size: .9rem }
        details ul, details ol { margin: .2rem 0 .4rem; padding-left: 1.2rem }
        footer { border-top: 1px solid #111; padding-top: .6rem; font-size: .9rem }
        @media (max-width: 34rem) { ol.work > li { grid-template-columns: 1fr } }
        @media print {
          /* 11 points, to be read on a wall. Closed details are not printed: a night takes two sheets instead of five. */
          body { padding: 0; max-width: none; font-size: 11pt; line-height: 1.3 }
          nav, .why, details:not([open]), details[open] summary { display: none }
          section.night + section.night { break-before: page }
          ol.work > li { padding: .25rem 0; grid-template-columns: 6.5rem 1fr }
          .cautions { font-size: 10pt }
          p, .cautions, details { margin: 0 }
          h2 { border-top: 0 }
        }
        """);
}
