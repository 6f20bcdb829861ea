/* random.h: numbers that look random and repeat from their seed on every machine. */
#ifndef KILNSTOW_BASE_RANDOM_H
#define KILNSTOW_BASE_RANDOM_H

#include <stdint.h>

typedef struct {
    uint64_t state[4];
} ks_random;

/* Different seeds give unrelated rows; `stream` parts the rows of workers that share a seed. */
ks_random ks_random_of(uint64_t seed, uint64_t stream);

uint64_t ks_random_bits(ks_random *random);
double ks_random_unit(ks_random *random);          /* 0 <= x < 1, steps of 2^-53 */
int ks_random_below(ks_random *random, int bound); /* 0 to bound - 1, each as likely; bound >= 1 */
double ks_random_between(ks_random *random, double least, double most);

#endif
