using FleetLight.Demo.Sending;

namespace FleetLight.Demo.Tests.Sending;

public sealed class UploadsTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Every_fact_is_sent_once_and_doubled_batches_once_more(long seed)
    {
        foreach (var uploads in Uploads.Of(Some.Fleet(seed)).GroupBy(upload => upload.Log))
        {
            Assert.Equal(
                uploads.Key.Events.Select(each => each.RunningNumber),
                uploads.Where(upload => !upload.Again).SelectMany(upload => upload.Numbers).Order());
            foreach (var again in uploads.Where(upload => upload.Again))
            {
                var first = uploads.Single(upload => !upload.Again && upload.Numbers == again.Numbers);
                Assert.True(again.At > first.At);
            }

            Assert.Contains(uploads, upload => upload.Again);
            Assert.All(uploads, upload => Assert.InRange(upload.Numbers.Count, 1, Uploads.MostEvents));
        }
    }

    [Fact]
    public void Some_batches_are_late_and_some_are_not_in_their_order()
    {
        var uploads = Uploads.Of(Some.Fleet()).Where(upload => !upload.Again).ToArray();
        Assert.Contains(uploads, upload => upload.Numbers.Zip(upload.Numbers.Skip(1)).Any(pair => pair.First > pair.Second));
        Assert.Contains(uploads.GroupBy(upload => upload.Device), device =>
            device.Zip(device.Skip(1)).Any(pair => pair.First.Numbers.Min() > pair.Second.Numbers.Max()));
        Assert.Contains(uploads, upload => upload.At - upload.Log.Events[upload.Numbers.Max() - 1].Entry.At > TimeSpan.FromDays(3));
    }

    [Fact]
    public void Batches_are_sent_in_the_order_of_their_time()
    {
        var uploads = Uploads.Of(Some.Fleet());
        Assert.Equal(uploads.OrderBy(upload => upload.At).Select(upload => upload.At), uploads.Select(upload => upload.At));
    }
}
