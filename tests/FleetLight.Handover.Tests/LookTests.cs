using FleetLight.Handover.Html;
using FleetLight.Handover.Pdf;
using FleetLight.Handover.Writing;

namespace FleetLight.Handover.Tests;

public sealed class LookTests
{
    [Fact]
    public void Written()
    {
        var document = PackWriter.Write(Garden.Pack(3, 6, 8));
        System.IO.File.WriteAllBytes("/tmp/ho/pack.pdf", PackPdf.Of(document, PackPaper.A4, Garden.Now));
        System.IO.File.WriteAllText("/tmp/ho/pack.html", PackHtml.Of(document));
        var watch = System.Diagnostics.Stopwatch.StartNew();
        var pack = Garden.Pack(20, 8, 30);
        var a = watch.ElapsedMilliseconds;
        var pdf = PackPdf.Of(PackWriter.Write(pack), PackPaper.Letter, Garden.Now);
        var b = watch.ElapsedMilliseconds;
        System.IO.File.WriteAllBytes("/tmp/ho/large.pdf", pdf);
        System.IO.File.WriteAllText("/tmp/ho/times.txt", $"{a} {b} {pdf.Length} {pack.Digest.Facts.Count}");
    }
}
