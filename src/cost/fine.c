#include "cost/fine.h"

#include "base/money_text.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

ks_fine ks_fine_times(ks_fine price, double units)
{
    double product = round((double)price * units);
    assert(!isnan(product));
    return fabs(product) < (double)KS_FINE_MOST ? (ks_fine)product
                                                : (product < 0 ? -KS_FINE_MOST : KS_FINE_MOST);
}

ks_fine ks_fine_plus(ks_fine a, ks_fine b)
{
    ks_fine sum = a + b;
    return sum > KS_FINE_MOST ? KS_FINE_MOST : sum < -KS_FINE_MOST ? -KS_FINE_MOST : sum;
}

int64_t ks_fine_minor(ks_fine amount)
{
    ks_fine half = amount < 0 ? -KS_FINE / 2 : KS_FINE / 2;
    return (amount + half) / KS_FINE;
}

ks_fine ks_minor_fine(int64_t minor)
{
    int64_t most = KS_FINE_MOST / KS_FINE;
    return minor > most ? KS_FINE_MOST : minor < -most ? -KS_FINE_MOST : minor * KS_FINE;
}

const char *ks_fine_print(ks_fine amount, int digits, int more, ks_arena *arena)
{
    ks_fine step = KS_FINE;
    for (int i = 0; i < more && step > 1; i++)
        step /= 10;
    ks_fine half = amount < 0 ? -(step / 2) : step / 2;
    return ks_money_print((amount + half) / step, digits + more, arena);
}

typedef struct {
    double rest;
    int who;
} remainder_due;

static int by_rest(const void *a, const void *b)
{
    const remainder_due *x = a, *y = b;
    if (x->rest != y->rest)
        return x->rest < y->rest ? 1 : -1;
    return x->who - y->who;
}

static double sum_of(int n, const double *weights)
{
    double sum = 0;
    for (int i = 0; i < n; i++)
        sum += weights[i];
    return sum;
}

/* Whole parts into `parts`, what each is still due into `due`; returns what is left of total. */
static int64_t whole_parts(int64_t total, int n, const double *weights, int64_t *parts,
                           remainder_due *due)
{
    double sum = sum_of(n, weights);
    int64_t left = total;
    for (int i = 0; i < n; i++) {
        double part = sum > 0 ? (double)total * (weights[i] / sum) : (double)total / n;
        parts[i] = (int64_t)floor(part);
        due[i] = (remainder_due){part - floor(part), i};
        left -= parts[i];
    }
    return left;
}

void ks_share_out(int64_t total, int n, const double *weights, int64_t *parts, ks_arena *arena)
{
    if (n <= 0)
        return;
    if (total < 0) {
        ks_share_out(-total, n, weights, parts, arena);
        for (int i = 0; i < n; i++)
            parts[i] = -parts[i];
        return;
    }
    remainder_due *due = KS_TAKE(arena, n, remainder_due);
    int64_t left = whole_parts(total, n, weights, parts, due);
    qsort(due, (size_t)n, sizeof *due, by_rest);
    for (int i = 0; left > 0; i = (i + 1) % n, left--)
        parts[due[i].who]++;
    for (int i = n - 1; left < 0; i = (i + n - 1) % n, left++)
        parts[due[i].who]--;
}
