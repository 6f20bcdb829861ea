/* check.h: what every test includes: cmocka, and comparison in the promised accuracy. */
#ifndef KILNSTOW_TESTS_CHECK_H
#define KILNSTOW_TESTS_CHECK_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

/* cmocka 1.1.5 compares no doubles. Fails also when either is not a number. */
#define check_near(got, wanted, within)                                                            \
    do {                                                                                           \
        double got_ = (got), wanted_ = (wanted), within_ = (within);                               \
        if (!(fabs(got_ - wanted_) <= within_)) {                                                  \
            print_error("%s = %.12g, wanted %.12g within %g\n", #got, got_, wanted_, within_);     \
            _fail(__FILE__, __LINE__);                                                             \
        }                                                                                          \
    } while (0)

/* How many trials a sweep makes: so many in per cent of `usual` as KILNSTOW_TRIALS says, at least
 * one. The sanitizers need few, a slow command makes many. */
static inline int trials_of(int usual)
{
    const char *percent = getenv("KILNSTOW_TRIALS");
    long n = percent ? (long)usual * strtol(percent, NULL, 10) / 100 : usual;
    return n < 1 ? 1 : (int)n;
}

#endif
