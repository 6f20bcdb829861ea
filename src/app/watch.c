#include "app/watch.h"

#include <pthread.h>
#include <stdlib.h>
#include <time.h>

enum { LOOKS_PER_SECOND = 50 };

struct ks_watch {
    ks_placing *placing;
    double until;
    const volatile sig_atomic_t *stop;
    pthread_t thread;
    pthread_mutex_t lock;
    pthread_cond_t over;
    bool finished;
};

double ks_watch_now(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static struct timespec next_look(void)
{
    struct timespec at;
    clock_gettime(CLOCK_REALTIME, &at);
    at.tv_nsec += 1000000000L / LOOKS_PER_SECOND;
    if (at.tv_nsec >= 1000000000L) {
        at.tv_sec++;
        at.tv_nsec -= 1000000000L;
    }
    return at;
}

static bool time_to_stop(const ks_watch *watch)
{
    return ks_watch_now() >= watch->until || (watch->stop && *watch->stop);
}

/* Looks again and again instead of being woken, since a signal handler may only set a flag. */
static void *watching(void *payload)
{
    ks_watch *watch = payload;
    pthread_mutex_lock(&watch->lock);
    while (!watch->finished && !time_to_stop(watch)) {
        struct timespec at = next_look();
        pthread_cond_timedwait(&watch->over, &watch->lock, &at);
    }
    if (!watch->finished)
        ks_placing_hurry(watch->placing);
    pthread_mutex_unlock(&watch->lock);
    return NULL;
}

ks_watch *ks_watch_start(ks_placing *placing, double seconds, const volatile sig_atomic_t *stop)
{
    ks_watch *watch = malloc(sizeof *watch);
    if (!watch)
        return NULL;
    *watch = (ks_watch){.placing = placing, .until = ks_watch_now() + seconds, .stop = stop};
    pthread_mutex_init(&watch->lock, NULL);
    pthread_cond_init(&watch->over, NULL);
    if (pthread_create(&watch->thread, NULL, watching, watch) == 0)
        return watch;
    pthread_cond_destroy(&watch->over);
    pthread_mutex_destroy(&watch->lock);
    free(watch);
    return NULL;
}

void ks_watch_finish(ks_watch *watch)
{
    if (!watch)
        return;
    pthread_mutex_lock(&watch->lock);
    watch->finished = true;
    pthread_cond_signal(&watch->over);
    pthread_mutex_unlock(&watch->lock);
    pthread_join(watch->thread, NULL);
    pthread_cond_destroy(&watch->over);
    pthread_mutex_destroy(&watch->lock);
    free(watch);
}
