#include "place/search/workers.h"

#include <pthread.h>
#include <stdatomic.h>

enum { THREADS_MOST = 64 };

typedef struct {
    atomic_int next;
    int n;
    ks_task *task;
    void *context;
} queue;

static void *work(void *given)
{
    queue *q = given;
    for (int i = atomic_fetch_add(&q->next, 1); i < q->n; i = atomic_fetch_add(&q->next, 1))
        q->task(q->context, i);
    return NULL;
}

void ks_workers_do(int threads, int n, ks_task *task, void *context)
{
    queue q = {.n = n, .task = task, .context = context};
    pthread_t helpers[THREADS_MOST];
    int begun = 0;
    for (int t = 1; t < threads && t < n && begun < THREADS_MOST; t++) {
        if (pthread_create(&helpers[begun], NULL, work, &q) != 0)
            break;
        begun++;
    }
    work(&q);
    for (int t = 0; t < begun; t++)
        pthread_join(helpers[t], NULL);
}
