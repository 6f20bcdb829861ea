#include "place/job/stream.h"

#include <assert.h>

enum { BITS = 28 };

ks_random ks_stream(uint64_t seed, ks_purpose purpose, int round, int task)
{
    assert(round >= 0 && round >> BITS == 0 && task >= 0 && task >> BITS == 0);
    return ks_random_of(seed,
                        (uint64_t)purpose << 2 * BITS | (uint64_t)round << BITS | (uint64_t)task);
}
