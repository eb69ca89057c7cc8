using System.Text;
using Mixscore.Loudness;
using Mixscore.Protocols.Osc;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>
/// The messages that a run obeys, under <c>/mixscore</c>: <c>/start</c> [s position], <c>/stop</c>, <c>/stay</c> [s "still"], <c>/release</c>,
/// <c>/jump</c> s, <c>/take</c> s [f dB], <c>/move</c> sf (source, by so many dB), <c>/back</c> s [f beats], <c>/offset</c> sf,
/// <c>/hold</c>, <c>/allback</c>, <c>/arm</c>, <c>/disarm</c>, <c>/takeover</c>, <c>/mark</c> s, <c>/link</c> si (1 there, 0 gone), <c>/clock</c> f (seconds into
/// the score) or s (position). A source is one by its name, or all of a site, of a role, or <c>all</c>; a gain below the
/// fader's range is off.
/// </summary>
internal static class ControlMessage
{
    internal const string Root = "/mixscore/";

    /// <summary>What a message asks for.</summary>
    /// <param name="address">Its address.</param>
    /// <param name="arguments">Its arguments.</param>
    /// <param name="plan">The plan, for sources and positions.</param>
    /// <param name="now">When it came.</param>
    /// <param name="events">Takes what is to be posted.</param>
    /// <returns>What is wrong with it, in words; <c>null</c> when nothing is.</returns>
    internal static string? Read(string address, IReadOnlyList<OscArgument> arguments, LivePlan plan, TimeSpan now, List<RunEvent> events)
    {
        if (!address.StartsWith(Root, StringComparison.Ordinal)) return $"{address} is none of ours; all begin with {Root}";
        var reading = new Reading(plan, arguments, events);
        return address[Root.Length..] switch
        {
            "start" => arguments.Count == 0 ? reading.Add(RunEvent.Start()) : reading.AtPosition(at => RunEvent.Start(at)),
            "stop" => reading.Add(RunEvent.Stop),
            "stay" => reading.Add(RunEvent.Stay(reading.Text(0) == "still" ? StayKind.Hold : StayKind.Loop)),
            "release" => reading.Add(RunEvent.Release),
            "jump" => reading.AtPosition(RunEvent.Jump),
            "take" => arguments.Count == 1 ? reading.Each(i => RunEvent.Move(i, Decibels.Zero)) : reading.EachWithGain(RunEvent.Take),
            "move" => reading.EachWithNumber(RunEvent.Move),
            "back" => reading.Beats(1) ?? reading.Each(i => RunEvent.Back(i, reading.Number(1))),
            "offset" => reading.EachWithNumber(RunEvent.Offset),
            "hold" => reading.Add(RunEvent.HoldAll),
            "allback" => reading.Beats(0) ?? reading.Add(RunEvent.AllBack(reading.Number(0))),
            "arm" => reading.Add(RunEvent.Arm),
            "disarm" => reading.Add(RunEvent.Disarm),
            "takeover" => reading.Add(RunEvent.TakeOver),
            "mark" => reading.Text(0) is { } note ? reading.Add(RunEvent.Note(note)) : "a mark has words",
            "link" => reading.Each(i => RunEvent.Link(i, reading.Number(1) is not 0)),
            "clock" => reading.Clock(now),
            _ => $"{address} is not known",
        };
    }

    /// <summary>The arguments of the message that a reader stands at.</summary>
    internal static List<OscArgument> Arguments(ref OscReader reader)
    {
        var arguments = new List<OscArgument>();
        while (reader.NextArgument())
            arguments.Add(reader.Tag switch
            {
                OscTag.String or OscTag.Symbol => OscArgument.Of(Encoding.UTF8.GetString(reader.Text)),
                OscTag.Int32 => OscArgument.Of(reader.Int32),
                OscTag.Float32 => OscArgument.Of((double)reader.Float32),
                OscTag.Float64 => OscArgument.Of(reader.Float64),
                OscTag.Int64 => OscArgument.Of(reader.Int64),
                OscTag.True => OscArgument.Of(1),
                OscTag.False => OscArgument.Of(0),
                _ => OscArgument.Nil,
            });
        return arguments;
    }

    private readonly struct Reading(LivePlan plan, IReadOnlyList<OscArgument> arguments, List<RunEvent> events)
    {
        internal string? Text(int i) => i < arguments.Count && arguments[i].Tag == OscTag.String ? arguments[i].AsText() : null;

        internal double? Number(int i) => i < arguments.Count ? arguments[i].AsNumber() : null;

        internal string? Beats(int i) => Number(i) is null or (>= 0 and <= RunEvent.MostBeats) ? null : $"beats are 0 to {RunEvent.MostBeats}";

        internal string? Add(RunEvent posted)
        {
            events.Add(posted);
            return null;
        }

        internal string? AtPosition(Func<Seconds, RunEvent> make)
        {
            if (Text(0) is not { } text) return "name a position, such as 17 or C:2";
            if (!Position.TryParse(text, out var position, out var problem) || !plan.Timeline.TryResolve(position!, out var place, out problem)) return problem;
            return Add(make(plan.Timeline.Tempo.SecondsAt(place)));
        }

        internal string? Each(Func<int, RunEvent> make)
        {
            var name = Text(0);
            var found = name is null ? [] : plan.Find(name);
            if (found.Count == 0) return $"\"{name}\" is no source, site or role";
            foreach (var i in found) events.Add(make(i));
            return null;
        }

        internal string? EachWithNumber(Func<int, Decibels, RunEvent> make) =>
            Number(1) is { } number && double.IsFinite(number) ? Each(i => make(i, Decibels.Of(number))) : "name a source and a number of dB";

        internal string? EachWithGain(Func<int, Decibels?, RunEvent> make)
        {
            if (Number(1) is not { } number || double.IsNaN(number) || double.IsPositiveInfinity(number)) return "name a source and a gain in dB";
            Decibels? gain = number < plan.Limits.Bottom.Value ? null : Decibels.Of(number);
            return Each(i => make(i, gain));
        }

        internal string? Clock(TimeSpan now)
        {
            if (Text(0) is not null) return AtPosition(at => RunEvent.Clock(new ClockPoint(now, at, ClockSignal.Moving)));
            return Number(0) is { } seconds && double.IsFinite(seconds)
                ? Add(RunEvent.Clock(new ClockPoint(now, new Seconds(seconds), ClockSignal.Moving)))
                : "name seconds or a position";
        }
    }
}
