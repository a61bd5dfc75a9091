using System.Net;
using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Text;
using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Api;

/// <summary>What every caller can rely on: ids, versions, strict bodies, problem details.</summary>
public sealed class ContractTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Create_SentTwice_IsDoneOnceAndAnsweredAlike(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var crew = await host.ClientForAsync("crew");
        var report = Station.Report(host);

        var first = await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", report);
        var second = await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", report);

        Assert.Equal((201, 201), (first.Status, second.Status));
        Assert.Equal(first.Body!.ToJsonString(), second.Body!.ToJsonString());
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Create_SentTwiceAtOnce_IsDoneOnce(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var crew = await host.ClientForAsync("crew");
        var report = Station.Report(host, position: "DM-F");

        var answers = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => crew.SendAsync(HttpMethod.Post, "/api/v1/reports", report)));

        // The IETF draft on the Idempotency-Key header (-07, 2.6): a repeat while the first is being worked on is told so (409); after it, the same answer.
        Assert.All(answers, answer => Assert.True(answer.Status is 201 or 409, $"{answer.Status}"));
        var after = await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", report);
        Assert.Equal(201, after.Status);
        Assert.Single(answers.Where(answer => answer.Status == 201).Append(after).Select(answer => answer.Body!["id"]!.GetValue<string>()).Distinct());
        Assert.Single((await crew.ReadAsync("/api/v1/defects?tail=QQ-TSA&position=DM-F"))["lines"]!.AsArray());
    }

    /// <summary>The door by itself: equal wishes at once wait for each other, and all get the one answer.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Wish_SentSixTimesAtOnce_IsCarriedOutOnceAndAnsweredAlike(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var crew = await host.ClientForAsync("crew.b");
        var wish = new { id = NewId.At(host.Clock.GetCurrentInstant()), leadHours = new[] { 24 } };

        var answers = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => crew.SendAsync(HttpMethod.Post, "/api/v1/follows", wish)));

        Assert.All(answers, answer => Assert.Equal(200, answer.Status));
        Assert.Single((await crew.ReadAsync("/api/v1/follows"))["follows"]!.AsArray());
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Create_SameIdOtherContents_IsRefused(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var crew = await host.ClientForAsync("crew");
        var id = NewId.At(host.Clock.GetCurrentInstant());
        await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, id));

        var (status, body, _) = await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, id, symptom: "smell"));

        Assert.Equal((422, "id-used-before"), (status, body!["refusal"]!.GetValue<string>()));
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Change_WithoutOrWithAnOldVersion_Is428Or412AndChangesNothing(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var tech = await host.ClientForAsync("tech");
        var defect = await Station.OpenAsync(host);
        var answer = new { leak = "leaking", leakWhere = "trap" };

        Assert.Equal(428, (await tech.SendAsync(HttpMethod.Post, $"/api/v1/defects/{defect}/leak-answer", answer)).Status);
        Assert.Equal(412, (await tech.SendAsync(HttpMethod.Post, $"/api/v1/defects/{defect}/leak-answer", answer, "\"0\"")).Status);
        Assert.Equal("noneSeen", (await Station.ReadAsync(host, defect))["leak"]!.GetValue<string>());
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Change_ByTwoPeopleWithTheSameVersionAtOnce_IsDoneOnce(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var tech = await host.ClientForAsync("tech");
        var defect = await Station.OpenAsync(host);
        var version = $"\"{(await Station.ReadAsync(host, defect))["version"]}\"";

        var answers = await Task.WhenAll(Enumerable.Range(0, 6).Select(number => tech.SendAsync(HttpMethod.Post, $"/api/v1/defects/{defect}/corrections", new { words = $"Number {number}" }, version)));

        Assert.Equal(1, answers.Count(answer => answer.Status == 200));
        Assert.Equal(5, answers.Count(answer => answer.Status == 412));
        Assert.Single((await Station.ReadAsync(host, defect))["story"]!.AsArray(), line => line!["kind"]!.GetValue<string>() == "defect.corrected");
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Change_RepeatedUnderItsKeyAfterALostAnswer_IsAnsweredAgain(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var tech = await host.ClientForAsync("tech");
        var defect = await Station.OpenAsync(host);
        var version = $"\"{(await Station.ReadAsync(host, defect))["version"]}\"";
        var key = NewId.At(host.Clock.GetCurrentInstant()).ToString();

        var first = await tech.SendAsync(HttpMethod.Post, $"/api/v1/defects/{defect}/corrections", new { words = "It was sink 2." }, version, key);
        var again = await tech.SendAsync(HttpMethod.Post, $"/api/v1/defects/{defect}/corrections", new { words = "It was sink 2." }, version, key);

        Assert.Equal((200, 200), (first.Status, again.Status));
        Assert.Equal(first.ETag, again.ETag);
        Assert.Single((await Station.ReadAsync(host, defect))["story"]!.AsArray(), line => line!["kind"]!.GetValue<string>() == "defect.corrected");
    }

    [Theory]
    [InlineData("{}", "id")]
    [InlineData("""{"id":"01a00000-0000-7000-8000-000000000001","tail":"QQ-TSA","position":"K-1","symptom":"drainsSlowly","leak":"noneSeen","seenAt":"2026-01-26T10:00:00"}""", "seenAt")]
    [InlineData("""{"id":"01a00000-0000-7000-8000-000000000001","tail":"QQ-TSA","position":"K-1","symptom":"sings","leak":"noneSeen","seenAt":"2026-01-26T10:00:00Z"}""", "symptom")]
    [InlineData("""{"id":"01a00000-0000-7000-8000-000000000001","tail":null,"position":"K-1","symptom":"smell","leak":"noneSeen","seenAt":"2026-01-26T10:00:00Z"}""", "tail")]
    [InlineData("""{"id":"01a00000-0000-7000-8000-000000000001","tail":"QQ-TSA","position":"K-1","symptom":"smell","leak":"noneSeen","seenAt":"2026-01-26T10:00:00Z","colour":"red"}""", "colour")]
    [InlineData("{ this is not json", "")]
    public async Task Body_ThatCannotBeRead_Is400AndNamesTheMember(string body, string member)
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var crew = await host.ClientForAsync("crew");
        using var content = new StringContent(body, Encoding.UTF8, "application/json");
        using var answer = await crew.PostAsync(new Uri("/api/v1/reports", UriKind.Relative), content, TestContext.Current.CancellationToken);
        var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        Assert.Contains(member, text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("no-such-tail", "QQ-ZZZ", "K-1", "noneSeen", null)]
    [InlineData("no-such-position", "QQ-TSA", "K-9", "noneSeen", null)]
    [InlineData("leak-where", "QQ-TSA", "K-1", "leaking", " ")]
    public async Task Report_ThatMakesNoSense_IsRefusedWithWhatToDo(string refusal, string tail, string position, string leak, string? where)
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);

        var (status, body, _) = await (await host.ClientForAsync("crew")).SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, tail: tail, position: position, leak: leak, leakWhere: where));

        Assert.Equal((422, refusal), (status, body!["refusal"]!.GetValue<string>()));
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Photo_SentTwice_IsStoredOnceAndComesBackByItsHash(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var crew = await host.ClientForAsync("crew");
        var id = NewId.At(host.Clock.GetCurrentInstant());
        var (_, received, _) = await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, id));
        var photo = TestPhotos.FromAPhone();
        var hash = Convert.ToHexStringLower(SHA256.HashData(photo));

        Assert.Equal(HttpStatusCode.OK, await PutAsync(crew, id, hash, photo));
        Assert.Equal(HttpStatusCode.OK, await PutAsync(crew, id, hash, photo));

        // What is kept was encoded anew, so it has an address of its own, and bytes that give it.
        var stored = Assert.Single((await crew.ReadAsync($"/api/v1/defects/{received!["id"]!.GetValue<string>()}"))["reports"]![0]!["photos"]!.AsArray())!.GetValue<string>();
        Assert.Equal(stored, Convert.ToHexStringLower(SHA256.HashData(await crew.GetByteArrayAsync(new Uri($"/api/v1/photos/{stored}", UriKind.Relative), TestContext.Current.CancellationToken))));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, await PutAsync(crew, id, hash, [1, 2, 3]));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, await PutAsync(crew, id, Convert.ToHexStringLower(SHA256.HashData([1, 2, 3])), [1, 2, 3]));
    }

    [Fact]
    public async Task Address_ThatDoesNotExist_IsProblemDetails()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);

        var (status, body, _) = await (await host.ClientForAsync("crew")).SendAsync(HttpMethod.Get, "/api/v1/nothing-here", null);

        Assert.Equal((404, "not-found"), (status, body!["refusal"]!.GetValue<string>()));
    }

    private static async Task<HttpStatusCode> PutAsync(HttpClient client, Guid report, string hash, byte[] photo)
    {
        using var content = new ByteArrayContent(photo);
        content.Headers.ContentType = new MediaTypeHeaderValue("image/jpeg");
        using var answer = await client.PutAsync(new Uri($"/api/v1/reports/{report}/photos/{hash}", UriKind.Relative), content, TestContext.Current.CancellationToken);
        return answer.StatusCode;
    }
}
