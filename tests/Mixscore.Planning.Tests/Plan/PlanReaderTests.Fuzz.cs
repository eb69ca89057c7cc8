using System.Text;
using CsCheck;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Plan;

public sealed class PlanReaderFuzzTests
{
    private const string Letters = " \n\r\t:-+#{}[]>|,.'\"&*!%@?~0123456789abfmnopuvyLU\u2212\u2028\u0000\uFEFF\uD83D";

    // Whatever a person types, the reader answers with a plan or with faults that stand in the text.
    [Fact]
    public void Mutated_plans_give_a_plan_or_faults_in_the_file()
    {
        var cut = Gen.Select(Gen.Int[0, Plans.Ferry.Length - 1], Gen.Int[0, 12], Gen.String[Gen.Char[Letters], 0, 6]);
        cut.Array[1, 6].Sample(cuts =>
        {
            var text = new StringBuilder(Plans.Ferry);
            foreach (var (at, length, put) in cuts)
            {
                var from = Math.Min(at, text.Length);
                text.Remove(from, Math.Min(length, text.Length - from)).Insert(from, put);
            }
            AssertAnswers(text.ToString());
        }, iter: 500);
    }

    [Fact]
    public void A_tag_that_is_no_uri_gives_a_fault() => AssertAnswers("title: !!a]fb<\t>");

    [Fact]
    public void Noise_gives_faults() => Gen.String[Gen.Char[Letters], 0, 60].Sample(AssertAnswers, iter: 500);

    private static void AssertAnswers(string text)
    {
        var lines = 2 + text.Count(c => c is '\n' or '\r' or '\u2028' or '\u2029' or '\u0085');
        try
        {
            Assert.NotNull(Plans.Read(text));
        }
        catch (InputException faults)
        {
            Assert.NotEmpty(faults.Faults);
            Assert.All(faults.Faults, fault => Assert.InRange(fault.Place.Line, 1, lines));
            Assert.All(faults.Faults, fault => Assert.NotEqual("", fault.Found));
        }
    }
}
