#include "base/stop.h"

bool ks_stop_is_asked(ks_stop *stop)
{
    if (!stop)
        return false;
    if (stop->asked_at > 0 && atomic_fetch_add(&stop->looks, 1) + 1 >= stop->asked_at)
        atomic_store(&stop->asked, true);
    return atomic_load_explicit(&stop->asked, memory_order_relaxed);
}
