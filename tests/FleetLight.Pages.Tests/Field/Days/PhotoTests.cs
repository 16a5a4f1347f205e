using System.Net;
using System.Security.Cryptography;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Views;
using FleetLight.Pages.Tests.Browsing;

namespace FleetLight.Pages.Tests.Field.Days;

/// <summary>A photo is recorded with what it shows and follows its fact.</summary>
public sealed class PhotoTests(RunningService service)
{
    [Fact]
    public async Task Its_fact_is_sent_first_and_its_bytes_follow()
    {
        const string Source = "urn:device:phone-1";
        var organisation = await service.AddOrganisationAsync();
        await Phone.PlanAsync(organisation);
        await using var window = await Browser.OpenAsync(service.Url, Screen.Phone);
        var page = await window.EnrolAsync(organisation, Source);
        var order = new List<string>();
        page.Request += (_, request) =>
        {
            if (request.Method is "POST" or "PUT") order.Add(new Uri(request.Url).AbsolutePath.Split('/')[2]);
        };
        // A picture as a camera gives it, larger than what is kept.
        var large = await page.EvaluateAsync<string>(
            """
            () => { const canvas = document.createElement('canvas'); canvas.width = 2400; canvas.height = 1800;
                    const pen = canvas.getContext('2d'); pen.fillStyle = '#6a5'; pen.fillRect(0, 0, 2400, 1800); pen.fillStyle = '#222'; pen.fillRect(600, 500, 900, 700);
                    return canvas.toDataURL('image/png').split(',')[1]; }
            """);

        await page.OpenFormAsync("Duct laid");
        await page.GetByLabel("Length", new() { Exact = true }).FillAsync("8");
        await page.GetByLabel("Take a photo").SetInputFilesAsync(
            new Microsoft.Playwright.FilePayload { Name = "duct.png", MimeType = "image/png", Buffer = Convert.FromBase64String(large) });
        await page.GetByAltText("The photo that was taken").WaitForAsync();
        await page.IsSoundAsync();
        await page.PictureAsync("field-photo");
        await page.KeepAsync();
        await page.StandsAsync("All is sent");

        await Phone.HasAsync(organisation, Source, 1, 2);
        Assert.Equal("attachments", order[^1]);
        Assert.Contains("events", order);
        var fact = (await organisation.Office.ReadAsync<FactPage>($"/v1/facts?type=fleetlight.photo.taken.v1")).Items.Single().Data;
        var told = JsonNode.Parse(fact.GetRawText())!;
        var bytes = (await organisation.Office.GetAsync($"/v1/attachments/{told["sha256"]}")).Expect(HttpStatusCode.OK).Body;
        Assert.Equal(told["sizeBytes"]!.GetValue<int>(), bytes.Length);
        Assert.Equal(told["sha256"]!.GetValue<string>(), Convert.ToHexStringLower(SHA256.HashData(bytes)));
        Assert.Equal(1600, await page.EvaluateAsync<int>(
            "async text => (await createImageBitmap(new Blob([Uint8Array.from(atob(text), each => each.charCodeAt(0))]))).width",
            Convert.ToBase64String(bytes)));
    }
}
