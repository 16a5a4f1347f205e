using System.Text.RegularExpressions;
using Xunit;

namespace FleetLight.Service.Tests.Overview;

public sealed partial class PageFileTests
{
    public static TheoryData<string, string> Pages => new(PageFiles.Pages);

    [Theory]
    [MemberData(nameof(Pages))]
    public void The_page_carries_no_script_and_no_style_of_its_own(string name, string scripts)
    {
        string page = PageFiles.Page(name);
        Assert.NotEmpty(PageFiles.Scripts(scripts));

        Assert.All(ScriptTag().Matches(page), tag =>
        {
            Assert.Contains(" src=\"/", tag.Groups[1].Value, StringComparison.Ordinal);
            Assert.Equal("", tag.Groups[2].Value.Trim());
        });
        Assert.DoesNotContain("<style", page, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("javascript:", page, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotMatch(InlineAttribute(), page);
    }

    [Fact]
    public void The_scripts_put_text_into_the_page_as_text_only()
    {
        Assert.NotEmpty(PageFiles.Scripts());
        Assert.All(PageFiles.Scripts(), script => Assert.DoesNotMatch(MarkupWriter(), script.Value));
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public void Every_id_that_a_script_uses_is_in_the_page_once(string name, string scripts)
    {
        List<string> there = [.. IdInPage().Matches(PageFiles.Page(name)).Select(match => match.Groups[1].Value)];
        SortedSet<string> used = new(PageFiles.Scripts(scripts).SelectMany(script => IdInScript().Matches(script))
            .Select(match => match.Groups[1].Value), StringComparer.Ordinal);
        used.UnionWith(PageFiles.Scripts(scripts).SelectMany(script => ViewName().Matches(script)).Select(match => match.Groups[1].Value));

        Assert.NotEmpty(used);
        Assert.Equal(there.Count, there.Distinct(StringComparer.Ordinal).Count());
        Assert.Empty(used.Except(there, StringComparer.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public void Every_label_and_description_names_something_in_the_page(string name, string scripts)
    {
        Assert.NotEmpty(scripts);
        HashSet<string> there = [.. IdInPage().Matches(PageFiles.Page(name)).Select(match => match.Groups[1].Value)];
        IEnumerable<string> named = Reference().Matches(PageFiles.Page(name)).SelectMany(match => match.Groups[1].Value.Split(' '));

        Assert.All(named, id => Assert.Contains(id, there));
    }

    [Fact]
    public void No_file_names_an_outside_address()
    {
        SortedDictionary<string, string> files = PageFiles.All();

        Assert.Contains("index.html", files.Keys);
        Assert.All(files, file => Assert.Empty(
            // The name of SVG is no address: nothing is fetched from it.
            OutsideAddress().Matches(file.Value.Replace("http://www.w3.org/2000/svg", "", StringComparison.Ordinal)).Select(match => match.Value)));
    }

    [Fact]
    public void The_key_is_kept_for_the_tab_only()
    {
        Assert.All(PageFiles.Scripts(), script => Assert.DoesNotMatch(LastingStore(), script.Value));
    }

    [GeneratedRegex("<script([^>]*)>(.*?)</script>", RegexOptions.Singleline | RegexOptions.IgnoreCase)]
    private static partial Regex ScriptTag();

    [GeneratedRegex(@"<[^>]+\s(on\w+|style)\s*=", RegexOptions.IgnoreCase)]
    private static partial Regex InlineAttribute();

    [GeneratedRegex(@"innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(|new Function\(")]
    private static partial Regex MarkupWriter();

    [GeneratedRegex("""\sid="([^"]+)["]""")]
    private static partial Regex IdInPage();

    [GeneratedRegex(@"byId\('([^']+)'\)")]
    private static partial Regex IdInScript();

    [GeneratedRegex(@"'(view-[a-z-]+)'")]
    private static partial Regex ViewName();

    [GeneratedRegex("""\s(?:for|aria-labelledby|aria-describedby)="([^"]+)["]""")]
    private static partial Regex Reference();

    [GeneratedRegex("""(?:https?|wss?|ftp):|["'(=]\s*//[\w-]+\.|@import|data:[a-z]+/""", RegexOptions.IgnoreCase)]
    private static partial Regex OutsideAddress();

    [GeneratedRegex(@"localStorage|indexedDB|document\.cookie|caches\.")]
    private static partial Regex LastingStore();
}
