using System.Xml;

namespace Mixscore.Score.Tests;

// MusicXML 4.0, metronome; figures derived: a tempo in quarters a minute is the number times the unit in quarters.
public sealed class MetronomeReaderTests
{
    private const string Quarter = "<beat-unit>quarter</beat-unit>";
    private const string DottedQuarter = "<beat-unit>quarter</beat-unit><beat-unit-dot/>";
    private const string DoubleDottedHalf = "<beat-unit>half</beat-unit><beat-unit-dot/><beat-unit-dot/>";
    private const string Eighth = "<beat-unit>eighth</beat-unit>";

    private const string EighthNote = "<metronome-note><metronome-type>eighth</metronome-type></metronome-note>";
    private const string TwoEighths = EighthNote + EighthNote;
    private const string Equal = "<metronome-relation>equals</metronome-relation>";
    private const string TripletStart = "<metronome-note><metronome-type>eighth</metronome-type><metronome-tuplet type=\"start\"><actual-notes>3</actual-notes><normal-notes>2</normal-notes></metronome-tuplet></metronome-note>";
    private const string TripletStop = "<metronome-note><metronome-type>eighth</metronome-type><metronome-tuplet type=\"stop\"><actual-notes>3</actual-notes><normal-notes>2</normal-notes></metronome-tuplet></metronome-note>";

    [Theory]
    [InlineData(72, Quarter + "<per-minute>72</per-minute>")]
    [InlineData(90, DottedQuarter + "<per-minute>60</per-minute>")]
    [InlineData(210, DoubleDottedHalf + "<per-minute>60</per-minute>")]
    [InlineData(60, Eighth + "<per-minute>120</per-minute>")]
    [InlineData(120, "<beat-unit>half</beat-unit><per-minute>60</per-minute>")]
    [InlineData(72, Quarter + "<per-minute>c. 72</per-minute>")]
    [InlineData(72, Quarter + "<per-minute>ca.72</per-minute>")]
    [InlineData(72, Quarter + "<per-minute>≈ 72</per-minute>")]
    [InlineData(72.5, Quarter + "<per-minute>72.5</per-minute>")]
    [InlineData(72.5, Quarter + "<per-minute>72,5</per-minute>")]
    // a quarter tied to an eighth
    [InlineData(90, "<beat-unit>quarter</beat-unit><beat-unit-tied><beat-unit>eighth</beat-unit></beat-unit-tied><per-minute>60</per-minute>")]
    public void A_number_is_read_with_its_unit(double expected, string mark)
    {
        var reading = Read(mark)!.Value;
        Assert.Equal(expected, reading.QuartersPerMinute, 1e-9);
        Assert.False(reading.IsRelation);
        Assert.False(reading.IsRange);
    }

    [Theory]
    [InlineData(74, Quarter + "<per-minute>72-76</per-minute>")]
    [InlineData(74, Quarter + "<per-minute>72 – 76</per-minute>")]
    [InlineData(111, DottedQuarter + "<per-minute>72 to 76</per-minute>")]
    public void Of_a_range_the_middle_is_taken(double expected, string mark)
    {
        var reading = Read(mark)!.Value;
        Assert.Equal(expected, reading.QuartersPerMinute, 1e-9);
        Assert.True(reading.IsRange);
    }

    // Old unit = new unit: what was the old unit lasts as long as the new one, so the tempo changes by new over old.
    [Theory]
    [InlineData(1.5, Quarter + DottedQuarter)]
    [InlineData(0.5, Quarter + Eighth)]
    [InlineData(2, "<metronome-note><metronome-type>quarter</metronome-type></metronome-note><metronome-relation>equals</metronome-relation><metronome-note><metronome-type>half</metronome-type></metronome-note>")]
    // two eighths = a triplet of quarter and eighth (swing): both last a quarter
    [InlineData(1, TwoEighths + Equal + "<metronome-note><metronome-type>quarter</metronome-type><metronome-tuplet type=\"start\"><actual-notes>3</actual-notes><normal-notes>2</normal-notes></metronome-tuplet></metronome-note><metronome-note><metronome-type>eighth</metronome-type><metronome-tuplet type=\"stop\"><actual-notes>3</actual-notes><normal-notes>2</normal-notes></metronome-tuplet></metronome-note>")]
    // two eighths = three eighths of a triplet, the middle one without a sign of its own
    [InlineData(1, TwoEighths + Equal + TripletStart + EighthNote + TripletStop)]
    // two eighths = the triplet and an eighth behind it
    [InlineData(1.5, TwoEighths + Equal + TripletStart + EighthNote + TripletStop + EighthNote)]
    public void A_unit_that_equals_a_unit_is_a_relation(double expected, string mark)
    {
        var reading = Read(mark)!.Value;
        Assert.Equal(expected, reading.QuartersPerMinute, 1e-9);
        Assert.True(reading.IsRelation);
    }

    [Theory]
    [InlineData("")]
    [InlineData(Quarter)]
    [InlineData(Quarter + "<per-minute>lively</per-minute>")]
    [InlineData(Quarter + "<per-minute>60 70 80</per-minute>")]
    [InlineData("<beat-unit>crotchet</beat-unit><per-minute>60</per-minute>")]
    public void A_mark_that_says_no_tempo_is_not_guessed(string mark) => Assert.Null(Read(mark));

    private static MetronomeReader.Reading? Read(string mark)
    {
        using var xml = XmlReader.Create(new StringReader($"<metronome>{mark}</metronome>"));
        xml.MoveToContent();
        return MetronomeReader.Read(Element.Read(xml));
    }
}
