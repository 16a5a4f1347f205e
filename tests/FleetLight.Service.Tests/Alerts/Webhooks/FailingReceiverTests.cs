using FleetLight.Service.Alerts;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Testing.Service;
using Microsoft.AspNetCore.Http;
using Xunit;

namespace FleetLight.Service.Tests.Alerts.Webhooks;

/// <summary>A receiver fails; the delivery is tried again under the same id, and parked when it cannot be made.</summary>
/// <remarks>These tests put the clock on and restart the service, so each has a service of its own.</remarks>
public sealed class FailingReceiverTests : IAsyncLifetime
{
    private readonly DeliveringService service = new();
    private Listener listener = null!;

    private Receiver Receiver => listener.Receiver;

    public async ValueTask InitializeAsync()
    {
        await service.InitializeAsync();
        listener = await Listener.SubscribeAsync(service);
    }

    public async ValueTask DisposeAsync()
    {
        await listener.DisposeAsync();
        await service.DisposeAsync();
    }

    [Fact]
    public async Task A_receiver_that_recovers_gets_the_same_id_once()
    {
        Receiver.AnswerWith(StatusCodes.Status500InternalServerError);
        await listener.TellAsync(Some.BoxSealed(gelFilled: false));
        Delivery failed = await listener.DeliveryAsync(delivery => delivery.Attempts == 1, "the first attempt");
        Assert.Equal((DeliveryState.Waiting, "The receiver answered 500."), (failed.State, failed.LastError));
        Assert.Equal(service.Clock.Now + DeliveringService.Options.FirstWait, failed.DueAt);

        Receiver.AnswerWith(StatusCodes.Status204NoContent);
        service.WaitForNextAttempt();

        Delivery made = await listener.DeliveryAsync(delivery => delivery.State == DeliveryState.Delivered, "the delivery");
        Assert.Equal((2, null), (made.Attempts, made.LastError));
        Assert.Equal(made.Id, Assert.Single(Receiver.Taken).Id);
        Assert.Equal([made.Id], Receiver.All.Select(told => told.Id).Distinct());
        Assert.Single(Receiver.All.Select(told => told.Body).Distinct());
    }

    [Fact]
    public async Task A_receiver_that_stumbles_is_asked_again_within_the_attempt()
    {
        int asked = 0;
        Receiver.Answer = _ => Task.FromResult(Interlocked.Increment(ref asked) < 3 ? StatusCodes.Status503ServiceUnavailable : StatusCodes.Status200OK);

        await listener.TellAsync(Some.BoxSealed(gelFilled: false));

        Delivery made = await listener.DeliveryAsync(delivery => delivery.State == DeliveryState.Delivered, "the delivery");
        Assert.Equal(1, made.Attempts);
        Assert.Equal([503, 503, 200], Receiver.All.Select(told => told.Status));
    }

    [Theory]
    [InlineData(StatusCodes.Status400BadRequest)]
    [InlineData(StatusCodes.Status404NotFound)]
    [InlineData(StatusCodes.Status410Gone)]
    public async Task A_receiver_that_refuses_is_not_asked_again_at_once(int status)
    {
        Receiver.AnswerWith(status);

        await listener.TellAsync(Some.BoxSealed(gelFilled: false));

        Delivery failed = await listener.DeliveryAsync(delivery => delivery.Attempts == 1, "the attempt");
        Assert.Equal((DeliveryState.Waiting, $"The receiver answered {status}."), (failed.State, failed.LastError));
        Assert.Single(Receiver.All);
    }

    [Fact]
    public async Task A_receiver_that_sends_elsewhere_is_not_followed()
    {
        Receiver.Answer = context =>
        {
            context.Response.Headers.Location = "/elsewhere";
            return Task.FromResult(StatusCodes.Status302Found);
        };

        await listener.TellAsync(Some.BoxSealed(gelFilled: false));

        Delivery failed = await listener.DeliveryAsync(delivery => delivery.Attempts == 1, "the attempt");
        Assert.Equal("The receiver answered 302.", failed.LastError);
        Assert.Equal("/told", Assert.Single(Receiver.All).Path);
    }

    [Fact]
    public async Task A_receiver_that_does_not_answer_is_given_up_for_a_while()
    {
        Receiver.Answer = Receiver.HangUpAsync;
        await listener.TellAsync(Some.BoxSealed(gelFilled: false));
        Delivery failed = await listener.DeliveryAsync(delivery => delivery.Attempts == 1, "the attempt");
        Assert.Equal("The receiver did not answer in time.", failed.LastError);

        Receiver.AnswerWith(StatusCodes.Status200OK);
        service.WaitForNextAttempt();

        Delivery made = await listener.DeliveryAsync(delivery => delivery.State == DeliveryState.Delivered, "the delivery");
        Assert.Equal([made.Id], Receiver.All.Select(told => told.Id).Distinct());
    }

    [Fact]
    public async Task What_cannot_be_delivered_is_parked_after_its_last_attempt_and_left_alone()
    {
        Delivery parked = await ParkAsync();

        service.WaitForNextAttempt();
        service.WaitForNextAttempt();
        // Another alert goes its whole way meanwhile: had the parked one been tried again, it would have been before it.
        Receiver.AnswerWith(StatusCodes.Status200OK);
        int before = Receiver.All.Count;
        await listener.TellAsync(Some.BoxSealed("another-box", gelFilled: false));
        await Receiver.TookAsync(1);

        Assert.Equal((DeliveryState.Parked, 3, "The receiver answered 500."), (parked.State, parked.Attempts, parked.LastError));
        Assert.Equal("another-box", Assert.Single(Receiver.All.Skip(before)).Subject);
        Assert.Equal(parked.Id, Assert.Single(await listener.DeliveriesAsync("parked")).Id);
        Assert.Contains(service.Log.All, line => line.Text.Contains(parked.Id, StringComparison.Ordinal) && line.Text.Contains("is parked", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_parked_delivery_that_somebody_retries_is_made_under_its_old_id()
    {
        Delivery parked = await ParkAsync();
        Receiver.AnswerWith(StatusCodes.Status200OK);

        Answer retried = await listener.Office.PostAsync($"/v1/webhooks/{listener.Id}/deliveries/{parked.Id}/retry");

        Assert.Equal((DeliveryState.Waiting, 0), (retried.As<Delivery>().State, retried.As<Delivery>().Attempts));
        await listener.DeliveryAsync(delivery => delivery.State == DeliveryState.Delivered, "the delivery");
        Assert.Equal(parked.Id, Assert.Single(Receiver.Taken).Id);
    }

    [Fact]
    public async Task Only_a_parked_delivery_is_retried_by_hand()
    {
        await listener.TellAsync(Some.BoxSealed(gelFilled: false));
        Delivery made = await listener.DeliveryAsync(delivery => delivery.State == DeliveryState.Delivered, "the delivery");

        Approved.Same("Webhooks", "not parked", await listener.Office.PostAsync($"/v1/webhooks/{listener.Id}/deliveries/{made.Id}/retry"));
        Approved.Same("Webhooks", "no such delivery", await listener.Office.PostAsync($"/v1/webhooks/{listener.Id}/deliveries/none/retry"));
        Answer ofAnother = await listener.Office.PostAsync($"/v1/webhooks/another/deliveries/{made.Id}/retry");
        Assert.Equal(System.Net.HttpStatusCode.NotFound, ofAnother.Status);
    }

    [Fact]
    public async Task A_restart_between_two_attempts_loses_no_delivery_and_doubles_none()
    {
        Receiver.AnswerWith(StatusCodes.Status500InternalServerError);
        await listener.TellAsync([.. Enumerable.Range(1, 8).Select(number => Some.BoxSealed($"box-{number}", gelFilled: false))]);
        await Eventually.IsSoAsync(async () => (await listener.DeliveriesAsync()).Count(delivery => delivery.Attempts == 1) == 8, "the first attempts");

        await service.RestartAsync();
        Receiver.AnswerWith(StatusCodes.Status200OK);
        service.WaitForNextAttempt();
        await Receiver.TookAsync(8);
        await service.CaughtUpAsync();

        Assert.Equal(8, Receiver.Taken.Count());
        Assert.Equal(8, Receiver.All.Select(told => told.Id).Distinct().Count());
        Assert.Equal(Enumerable.Range(1, 8).Select(number => $"box-{number}"), Receiver.Taken.Select(told => told.Subject).Order());
    }

    [Fact]
    public async Task A_restart_in_the_middle_of_an_attempt_leaves_it_to_the_next_under_the_same_id()
    {
        TaskCompletionSource asked = new();
        Receiver.Answer = context =>
        {
            asked.TrySetResult();
            return Receiver.HangUpAsync(context);
        };
        await listener.Device.TellAsync(Some.BoxSealed(gelFilled: false));
        await asked.Task.WaitAsync(Eventually.Deadline, TestContext.Current.CancellationToken);

        await service.StopAsync();
        Receiver.AnswerWith(StatusCodes.Status200OK);
        await service.StartAsync();
        // The lease of the node that is gone has to run out first.
        service.Clock.Advance(DeliveringService.Options.LeaseFor);
        service.WaitForNextAttempt();
        await Receiver.TookAsync(1);

        Assert.Single(Receiver.Taken);
        Assert.Single(Receiver.All.Select(told => told.Id).Distinct());
    }

    [Fact]
    public async Task A_fact_whose_receipt_was_given_just_before_the_end_is_told_after_the_start()
    {
        await listener.Device.TellAsync(Some.BoxSealed(gelFilled: false));
        await service.StopAsync();
        await service.StartAsync();

        await service.CaughtUpAsync();
        await Receiver.TookAsync(1);

        Assert.Single(Receiver.All.Select(told => told.Id).Distinct());
    }

    [Fact]
    public async Task A_receiver_that_keeps_failing_to_connect_is_left_alone_for_a_while()
    {
        await Receiver.DisposeAsync();

        await listener.TellAsync([.. Enumerable.Range(1, 40).Select(number => Some.BoxSealed($"box-{number}", gelFilled: false))]);
        await Eventually.IsSoAsync(async () => (await listener.DeliveriesAsync()).All(delivery => delivery.Attempts == 1), "the first attempts");

        Assert.Contains(await listener.DeliveriesAsync(), delivery => delivery.LastError == "The receiver failed too often lately; it is left alone for a while.");
        Assert.All(await listener.DeliveriesAsync(), delivery => Assert.Equal(DeliveryState.Waiting, delivery.State));
    }

    private async Task<Delivery> ParkAsync()
    {
        Receiver.AnswerWith(StatusCodes.Status500InternalServerError);
        await listener.TellAsync(Some.BoxSealed(gelFilled: false));
        for (int attempt = 1; attempt < 3; attempt++)
        {
            await listener.DeliveryAsync(delivery => delivery.Attempts == attempt, $"attempt {attempt}");
            service.WaitForNextAttempt();
        }

        return await listener.DeliveryAsync(delivery => delivery.State == DeliveryState.Parked, "the delivery to be parked");
    }
}
