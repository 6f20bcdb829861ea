/* rational.h: exact numbers as people write them: 4-1/2, 11,5, 10 and three quarters. */
#ifndef KILNSTOW_BASE_RATIONAL_H
#define KILNSTOW_BASE_RATIONAL_H

#include <stdbool.h>
#include <stdint.h>

typedef struct {
    int64_t num, den; /* lowest terms, den > 0 */
} ks_rational;

/* Reads a number from the start of *at and moves it behind: decimals with point or comma, "1e3",
 * "10 1/2", "4-1/2", vulgar fractions. Digits beyond the 18th are not looked at, as no double holds
 * them. NULL or the reason, which is a remedy in words. */
const char *ks_rational_read(const char **at, ks_rational *out);

/* False when the exact result has no room. */
bool ks_rational_times(ks_rational a, ks_rational b, ks_rational *out);
bool ks_rational_plus(ks_rational a, ks_rational b, ks_rational *out);

/* The nearest double while both halves are below 2^53, else within 1e-15 of it. */
double ks_rational_double(ks_rational number);

#endif
