namespace Mixscore.Loudness;

/// <summary>y = B0 x + B1 x1 + B2 x2 - A1 y1 - A2 y2, ITU-R BS.1770-5, Annex 1, Fig. 3.</summary>
internal readonly record struct Biquad(double B0, double B1, double B2, double A1, double A2);
