using System.Text;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Audio.Tests.Measuring;

public sealed class MeasureFileTests : IDisposable
{
    private readonly Folder _folder = new();

    public void Dispose() => _folder.Dispose();

    private static readonly StemMeasurement One = new()
    {
        Source = "north.horn",
        Integrated = new Lufs(-23.25),
        Range = Decibels.Of(7.5),
        TruePeak = Decibels.Of(-1.25),
        NoiseFloor = null,
        Active = [new(new(1.5), new(4.25))],
        Drops = [],
        Bars = [new(1, new Lufs(-20.5)), new(2, null)],
        DirectCurrent = Decibels.Of(-61.5),
        Clipped = [new(new(2), new(2.001))],
        Bursts = [new(new(3), new(3.0125))],
    };

    // Design, section 3, Contracts.
    [Fact]
    public void Has_the_shape_of_the_contract() => Assert.Equal("""
        {
          "sources": [
            {
              "source": "north.horn",
              "integrated": -23.25,
              "range": 7.5,
              "truePeak": -1.25,
              "noiseFloor": null,
              "active": [
                [
                  1.5,
                  4.25
                ]
              ],
              "drops": [],
              "bars": [
                {
                  "index": 1,
                  "loudness": -20.5
                },
                {
                  "index": 2,
                  "loudness": null
                }
              ],
              "directCurrent": -61.5,
              "clipped": [
                [
                  2,
                  2.001
                ]
              ],
              "bursts": [
                [
                  3,
                  3.012
                ]
              ]
            }
          ]
        }

        """.ReplaceLineEndings("\n"), Encoding.UTF8.GetString(MeasureFile.ToJson([One])));

    [Fact]
    public void Reads_back_what_was_written()
    {
        MeasureFile.Write(_folder["out/measure.json"], [One, One with { Source = "x", Integrated = null }]);
        var read = MeasureFile.Read(_folder["out/measure.json"]);
        Assert.Equal(["measure.json"], _folder.Names);
        Assert.Equal(MeasureFile.ToJson([One, One with { Source = "x", Integrated = null }]), MeasureFile.ToJson(read));
    }

    // As it was written before these three were measured.
    [Fact]
    public void A_file_without_direct_current_clipping_and_bursts_is_read()
    {
        File.WriteAllText(_folder["measure.json"], """{ "sources": [{ "source": "x", "integrated": -20, "range": null, "truePeak": null, "noiseFloor": null, "active": [], "drops": [], "bars": [] }] }""");
        var read = Assert.Single(MeasureFile.Read(_folder["measure.json"]));
        Assert.Null(read.DirectCurrent);
        Assert.Empty(read.Clipped);
        Assert.Empty(read.Bursts);
    }

    [Theory]
    [InlineData("")]
    [InlineData("[]")]
    [InlineData("{\"sources\": 3}")]
    [InlineData("{\"sources\": [{\"source\": \"x\"}]}")]
    [InlineData("{\"sources\": [{\"source\": null, \"integrated\": \"loud\"}]}")]
    public void What_is_no_such_file_is_a_fault(string text)
    {
        File.WriteAllText(_folder["measure.json"], text);
        Assert.Equal("MX231", Assert.Single(Assert.Throws<InputException>(() => MeasureFile.Read(_folder["measure.json"])).Faults).Code);
    }

    [Fact]
    public void What_is_not_there_is_unavailable() => Assert.Throws<UnavailableException>(() => MeasureFile.Read(_folder["measure.json"]));
}
