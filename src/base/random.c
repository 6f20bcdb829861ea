#include "base/random.h"

#include <assert.h>

/* The finaliser of "splitmix64" (S. Vigna, public domain): spreads a seed over all bits. */
static uint64_t spread(uint64_t *counter)
{
    uint64_t z = *counter += 0x9E3779B97F4A7C15u;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
    return z ^ (z >> 31);
}

ks_random ks_random_of(uint64_t seed, uint64_t stream)
{
    uint64_t counter = seed, other = ~stream;
    counter ^= spread(&other);
    ks_random random;
    for (int i = 0; i < 4; i++)
        random.state[i] = spread(&counter);
    return random;
}

static uint64_t rolled(uint64_t x, int by)
{
    return x << by | x >> (64 - by);
}

/* "xoshiro256**" (D. Blackman and S. Vigna, public domain). */
uint64_t ks_random_bits(ks_random *random)
{
    uint64_t *s = random->state;
    uint64_t bits = rolled(s[1] * 5, 7) * 9, shifted = s[1] << 17;
    s[2] ^= s[0];
    s[3] ^= s[1];
    s[1] ^= s[2];
    s[0] ^= s[3];
    s[2] ^= shifted;
    s[3] = rolled(s[3], 45);
    return bits;
}

double ks_random_unit(ks_random *random)
{
    return (double)(ks_random_bits(random) >> 11) * 0x1p-53;
}

int ks_random_below(ks_random *random, int bound)
{
    assert(bound >= 1);
    uint64_t range = (uint64_t)bound, surplus = (0 - range) % range; /* 2^64 mod bound */
    uint64_t bits;
    do
        bits = ks_random_bits(random);
    while (bits < surplus);
    return (int)(bits % range);
}

double ks_random_between(ks_random *random, double least, double most)
{
    return least + (most - least) * ks_random_unit(random);
}
