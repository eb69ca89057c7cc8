using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Desk;

/// <summary>Reads one desk map from its nodes.</summary>
internal sealed class MapReading
{
    private static readonly string[] Protocols = ["osc", "midi"];

    private readonly FaultList _faults;

    private MapReading(FaultList faults) => _faults = faults;

    /// <summary>The map, or <c>null</c> with faults.</summary>
    public static DeskMap? Read(YamlNode root, FaultList faults) => new MapReading(faults).Map(root);

    private DeskMap? Map(YamlNode root)
    {
        if (Section.Open("a desk map", root, root.Place, _faults, "title", "protocol", "to", "listen", "strip") is not { } map) return null;
        var title = map.Text(map.Need("title", "name the desk, such as \"title: The desk of the small hall\""));
        var protocol = Protocol(map);
        var to = At(map, map.Need("to", "say where the desk is, such as \"to: udp://127.0.0.1:9000\""), protocol);
        var listen = At(map, map["listen"], protocol);
        var stripPair = map.Need("strip", "say how a strip's fader is addressed");
        if (stripPair is null || Section.Open("a strip", stripPair.Value, stripPair.Key.Place, _faults, "fader", "mute", "meter") is not { } strip) return null;
        var faderPair = strip.Need("fader", "give its address, the value of off and its law");
        if (protocol is not { } known) return null;
        var controls = new ControlReading(known, _faults);
        var fader = faderPair is null ? null : Fader("a fader", faderPair, controls);
        var mute = strip["mute"] is { } mutePair ? Mute(mutePair, controls) : null;
        var meter = strip["meter"] is { } meterPair ? Fader("a meter", meterPair, controls) : null;
        if (title is null || to is null || fader is null) return null;
        return new DeskMap { Title = title, Protocol = known, To = to, Listen = listen, Fader = fader, Mute = mute, Meter = meter, Place = root.Place };
    }

    private DeskProtocol? Protocol(Section map)
    {
        var pair = map.Need("protocol", "write osc or midi");
        switch (map.Text(pair))
        {
            case null: return null;
            case "osc": return DeskProtocol.Osc;
            case "midi": return DeskProtocol.Midi;
            case var other:
                _faults.Add(DeskFault.NotAProtocol, pair!.Value.Place, $"\"{other}\" is not a protocol", Nearest.Remedy(other, Protocols, "write one of"));
                return null;
        }
    }

    private Endpoint? At(Section map, YamlPair? pair, DeskProtocol? protocol)
    {
        if (map.Text(pair) is not { } text) return null;
        var remedy = protocol switch
        {
            DeskProtocol.Osc => "write udp://host:port or tcp://host:port",
            DeskProtocol.Midi => "write rtp-midi://host:port or midi: and the path of a device",
            _ => "write udp://, tcp:// or rtp-midi:// with host:port, or midi: and the path of a device",
        };
        if (!Endpoint.TryParse(text, out var endpoint, out var problem))
        {
            _faults.Add(DeskFault.NotAnEndpoint, pair!.Value.Place, problem!, remedy);
            return null;
        }
        var speaks = endpoint!.Carrier is Carrier.Udp or Carrier.Tcp or Carrier.TcpSlip ? DeskProtocol.Osc : DeskProtocol.Midi;
        if (protocol is null || protocol == speaks) return endpoint;
        _faults.Add(DeskFault.WrongCarrier, pair!.Value.Place, $"\"{text}\" does not carry {(protocol == DeskProtocol.Osc ? "osc" : "midi")}", remedy);
        return null;
    }

    private DeskFader? Fader(string what, YamlPair pair, ControlReading controls)
    {
        if (Section.Open(what, pair.Value, pair.Key.Place, _faults, [.. controls.Keys, "off", "law", "feedback"]) is not { } fader) return null;
        var control = controls.Read(fader, pair.Key.Place, "f");
        var off = controls.Value(fader, fader.Need("off", "write the value that stands for silence"), control);
        var lawPair = fader.Need("law", "write at least two points, such as [[-60, 0.0], [0, 1.0]]");
        var points = lawPair is null ? null : Points(lawPair, controls, control);
        if (control is null || off is not { } shut || points is null) return null;
        if (LawProblem.In([.. points.Select(point => point.Point)], shut, control.Number) is { } problem)
        {
            var place = problem.Point is { } index ? points[index].Place : lawPair!.Value.Place;
            _faults.Add(DeskFault.NotALaw, place, problem.Found, problem.Remedy);
            return null;
        }
        var feedback = fader["feedback"] is { } feedbackPair ? Feedback(feedbackPair, controls) : null;
        return new DeskFader(control, new FaderLaw([.. points.Select(point => point.Point)], shut, control.Number), pair.Key.Place) { Feedback = feedback };
    }

    private DeskControl? Feedback(YamlPair pair, ControlReading controls) =>
        Section.Open("feedback", pair.Value, pair.Key.Place, _faults, controls.Keys) is { } feedback ? controls.Read(feedback, pair.Key.Place, "f") : null;

    private DeskSwitch? Mute(YamlPair pair, ControlReading controls)
    {
        if (Section.Open("a mute", pair.Value, pair.Key.Place, _faults, [.. controls.Keys, "on", "off"]) is not { } mute) return null;
        var control = controls.Read(mute, pair.Key.Place, "i");
        var on = controls.Value(mute, mute.Need("on", "write the value with which the strip sounds"), control);
        var off = controls.Value(mute, mute.Need("off", "write the value with which the strip is silent"), control);
        return control is null || on is null || off is null ? null : new DeskSwitch(control, on.Value, off.Value, pair.Key.Place);
    }

    /// <summary>The points that can be read; <c>null</c> where one cannot.</summary>
    private List<(LawPoint Point, Place Place)>? Points(YamlPair pair, ControlReading controls, DeskControl? control)
    {
        const string remedy = "write points as [dB, value], such as [[-60, 0.0], [0, 1.0]]";
        if (pair.Value is not YamlList list)
        {
            _faults.Add(DeskFault.NotALaw, pair.IsEmpty ? pair.Key.Place : pair.Value.Place, "the law is not a list", remedy);
            return null;
        }
        var points = new List<(LawPoint, Place)>();
        var whole = true;
        foreach (var item in list.Items)
        {
            if (item is not YamlList { Items: [YamlText gainText, YamlText valueText] })
            {
                _faults.Add(DeskFault.NotALaw, item.Place, "this is not a point of a law", remedy);
                whole = false;
                continue;
            }
            var problem = Measure.Gain.Read(gainText.Value, out var gain);
            if (problem is not null) _faults.Add(DeskFault.NotALaw, gainText.Place, problem.Found, problem.Remedy);
            var value = controls.Value(valueText, control);
            if (problem is null && value is { } number) points.Add((new LawPoint(Loudness.Decibels.Of(gain), number), item.Place));
            else whole = false;
        }
        return whole ? points : null;
    }
}
