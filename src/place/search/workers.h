/* workers.h: independent tasks done by some threads; which thread does which changes nothing. */
#ifndef KILNSTOW_PLACE_SEARCH_WORKERS_H
#define KILNSTOW_PLACE_SEARCH_WORKERS_H

typedef void ks_task(void *context, int which);

/* Does tasks 0 to n - 1; returns when all are done. When threads cannot be had, does them itself.
 */
void ks_workers_do(int threads, int n, ks_task *task, void *context);

#endif
