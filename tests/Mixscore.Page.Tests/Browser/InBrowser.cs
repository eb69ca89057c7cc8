namespace Mixscore.Page.Tests;

/// <summary>Tests in a browser: one at a time, beside no others, since they wait for real seconds; and none waits for ever. The demo is laid out once for all that rehearse it, and once for those that edit and perform it.</summary>
[CollectionDefinition(nameof(InBrowser), DisableParallelization = true)]
public sealed class InBrowser : ICollectionFixture<EveningDemo>, ICollectionFixture<RehearsedDemo>
{
    /// <summary>What a test may take at most, ms. The longest plays sixteen bars and takes a minute and a half.</summary>
    internal const int Patience = 300_000;
}
