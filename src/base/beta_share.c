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

/* ln(1 + u) less u, by its series where the two are near. */
static double beyond_linear(double u)
{
    if (fabs(u) > 0.05) return log1p(u) - u;
    double power = u * u, sum = 0.0;
    for (int n = 2; n <= 16; n++) {
        sum += (n % 2 == 0 ? -power : power) / n;
        power *= u;
    }
    return sum;
}

/* The linear terms of the two logarithms are equal and opposite: a million each in a
 * distribution with hardly any spread, they are left out. */
double dw_beta_kernel(double x, double a, double b)
{
    const double mean = a / (a + b), rest = b / (a + b);
    const double up = a * beyond_linear((x - mean) / mean) + b * beyond_linear((mean - x) / rest);
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

/* Gauss-Legendre, 10 points on [-1, 1]: positive half, abscissa and weight [computed]. */
enum { HALF = 5 };
static const double gauss[HALF][2] = {{0.14887433898163121, 0.29552422471475287},
                                      {0.43339539412924719, 0.26926671930999635},
                                      {0.67940956829902441, 0.21908636251598204},
                                      {0.86506336668898451, 0.14945134915058059},
                                      {0.97390652851717172, 0.066671344308688138}};

/* Share beyond x on the side that step points to, sigma by sigma, until nothing is added any more. */
static double tail(double x, double a, double b, double step)
{
    double sum = 0.0;
    for (int i = 0; i < 60; i++) {
        const double middle = x + (i + 0.5) * step;
        double part = 0.0;
        for (int k = -HALF; k < HALF; k++) {
            const double *g = gauss[k < 0 ? -k - 1 : k];
            const double t = middle + (k < 0 ? -0.5 : 0.5) * step * g[0];
            if (t > 0.0 && t < 1.0) part += g[1] * dw_beta_kernel(t, a, b) / (t * (1.0 - t));
        }
        sum += part;
        if (part < 1e-18 * sum) break;
    }
    return 0.5 * fabs(step) * sum;
}

/* From here on the fraction would take thousands of terms and more, and the distribution is so narrow that
 * its density is no trouble to integrate. */
static const double narrow_from = 1e5;

static double narrow_share(double x, double a, double b)
{
    const double total = a + b, mean = a / total;
    const double sigma = sqrt(mean * (b / total) / (total + 1.0));
    return x < mean ? tail(x, a, b, -sigma) : 1.0 - tail(x, a, b, sigma);
}

double dw_beta_share(double x, double a, double b)
{
    if (!(x >= 0.0 && x <= 1.0) || !(a > 0.0) || !(b > 0.0)) return NAN;
    if (x == 0.0 || x == 1.0) return x;
    if (a + b > narrow_from && a > 400.0 && b > 400.0) return narrow_share(x, a, b);
    const bool low = x < (a + 1.0) / (a + b + 2.0);
    const double f = dw_beta_kernel(x, a, b);
    return low ? f * fraction(x, a, b) / a : 1.0 - f * fraction(1.0 - x, b, a) / b;
}
