/* check.h: what every test includes: cmocka, and comparison in the promised accuracy. */
#ifndef KILNSTOW_TESTS_CHECK_H
#define KILNSTOW_TESTS_CHECK_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

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

#endif
