#include "beta_share.h"

#include <math.h>
#include <stdbool.h>

static const double pi = 3.14159265358979323846;

/* ln Gamma(x) less Stirling's (x - 1/2) ln x - x + ln(2 pi)/2: small where x is large, so that nothing
 * cancels. */
static double beyond_stirling(double x)
{
    double sum = 0.0;
    while (x < 12.0) {
        sum += (x + 0.5) * log1p(1.0 / x) - 1.0;
        x += 1.0;
    }
    const double r = 1.0 / (x * x);
    return sum + (1.0 / 12.0 - r * (1.0 / 360.0 - r * (1.0 / 1260.0 - r * (1.0 / 1680.0 -
                                                                          r / 1188.0)))) / x;
}

/* x^a (1-x)^b / B(a, b). */
static double front(double x, double a, double b)
{
    const double mean = a / (a + b), rest = b / (a + b);
    const double up = a * log1p((x - mean) / mean) + b * log1p((mean - x) / rest);
    const double more = beyond_stirling(a + b) - beyond_stirling(a) - beyond_stirling(b);
    return sqrt(a * rest / (2.0 * pi)) * exp(up + more);
}

/* Lentz's way through 1/(1 + d1/(1 + d2/(1 + ...))). */
static double fraction(double x, double a, double b)
{
    enum { TERMS = 1000000 };
    const double tiny = 1e-290;
    double c = 1.0, d = 1.0 - (a + b) * x / (a + 1.0);
    if (fabs(d) < tiny) d = tiny;
    d = 1.0 / d;
    double value = d;
    for (int m = 1; m <= TERMS; m++) {
        double change = 1.0;
        const double even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        const double odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        const double term[2] = {even, odd};
        for (int k = 0; k < 2; k++) {
            d = 1.0 + term[k] * d;
            c = 1.0 + term[k] / c;
            if (fabs(d) < tiny) d = tiny;
            if (fabs(c) < tiny) c = tiny;
            d = 1.0 / d;
            change = c * d;
            value *= change;
        }
        if (fabs(change - 1.0) < 1e-15) return value;
    }
    return NAN;
}

double dw_beta_share(double x, double a, double b)
{
    if (!(x >= 0.0 && x <= 1.0) || !(a > 0.0) || !(b > 0.0)) return NAN;
    if (x == 0.0 || x == 1.0) return x;
    const bool low = x < (a + 1.0) / (a + b + 2.0);
    const double f = front(x, a, b);
    return low ? f * fraction(x, a, b) / a : 1.0 - f * fraction(1.0 - x, b, a) / b;
}
