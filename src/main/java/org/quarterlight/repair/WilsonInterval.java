package org.quarterlight.repair;

/**
 * Between which shares the true one lies with 95 % confidence, when so many of so many were counted. Wilson, "Probable
 * inference, the law of succession, and statistical inference", Journal of the American Statistical Association 22 (1927),
 * 209–212; it stays within 0 and 1 and tells something also of few and of none.
 */
public record WilsonInterval(double low, double high) {
    /** The normal quantile of 97.5 %. */
    private static final double Z = 1.959963984540054;

    /** Of none counted nothing is known: anything from 0 to 1. */
    public static WilsonInterval of(long counted, long among) {
        if (counted < 0 || among < counted) {
            throw new IllegalArgumentException(counted + " of " + among);
        }
        if (among == 0) {
            return new WilsonInterval(0, 1);
        }
        var n = (double) among;
        var share = counted / n;
        var middle = share + Z * Z / (2 * n);
        var half = Z * Math.sqrt(share * (1 - share) / n + Z * Z / (4 * n * n));
        var scale = 1 + Z * Z / n;
        return new WilsonInterval(
                counted == 0 ? 0 : (middle - half) / scale, counted == among ? 1 : (middle + half) / scale);
    }
}
