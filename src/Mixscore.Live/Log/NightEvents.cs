using System.Globalization;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>What happened in a night beside the hands: feeds that were gone, the clock that was, late ticks, notes and trouble.</summary>
internal static class NightEvents
{
    internal static IReadOnlyList<NightEvent> Of(Night night, Timeline timeline)
    {
        var (events, gone, clock, last) = (new List<NightEvent>(), new Dictionary<string, (double From, string Text)>(StringComparer.Ordinal), ((double From, string Text)?)null, 0.0);
        foreach (var line in night.Lines)
        {
            var at = NightPlace.Of(line, timeline)?.ToDouble() ?? last;
            switch (line.Kind)
            {
                case LogKind.Drop when line.Source is { } source: gone.TryAdd(source, (at, NightStory.Tell(line)!)); break;
                case LogKind.Up when line.Source is { } source && gone.Remove(source, out var since): End(NightEventKind.FeedGone, since, at, source); break;
                case LogKind.Clock when IsGone(line.Text): clock ??= (at, NightStory.Tell(line)!); break;
                case LogKind.Clock when clock is { } since:
                    End(NightEventKind.ClockGone, since, at, null);
                    clock = null;
                    break;
                case LogKind.Late: events.Add(new NightEvent(NightEventKind.LateTick, at, at, null, NightStory.Tell(line)!) { By = new Seconds(line.Value ?? 0) }); break;
                case LogKind.Mark: events.Add(new NightEvent(NightEventKind.Note, at, at, null, line.Text ?? "")); break;
                case LogKind.Trouble: events.Add(new NightEvent(NightEventKind.Trouble, at, at, null, line.Text ?? "")); break;
                case LogKind.Desk when line.Text == "gone": events.Add(new NightEvent(NightEventKind.Trouble, at, at, null, string.Create(CultureInfo.InvariantCulture, $"desk {line.Desk} is {line.Text}"))); break;
                default: break;
            }
            last = at;
        }
        foreach (var (source, since) in gone) End(NightEventKind.FeedGone, since, last, source);
        if (clock is { } still) End(NightEventKind.ClockGone, still, last, null);
        return [.. events.OrderBy(one => one.From)];

        // A jump back may lie between the two.
        void End(NightEventKind kind, (double From, string Text) since, double at, string? source) => events.Add(new NightEvent(kind, since.From, Math.Max(since.From, at), source, since.Text));
    }

    private static bool IsGone(string? text) => text == Words.Of(ClockState.Carrying) || text == Words.Of(ClockState.Held);
}
