/* answer_log.h: the JSON with which the record's commands answer another program. */
#ifndef KILNSTOW_APP_ANSWERS_ANSWER_LOG_H
#define KILNSTOW_APP_ANSWERS_ANSWER_LOG_H

#include "app/record/log_run.h"
#include "app/record/next_firings.h"
#include "app/record/pots.h"
#include "app/record/stock.h"

/* Each is JSON text ending in a newline, in `arena`. */
const char *ks_answer_log(int n, const ks_book_firing *firings, const ks_log_notes *notes,
                          ks_arena *arena);
const char *ks_answer_learnt(const ks_learnt *learnt, ks_arena *arena);
const char *ks_answer_map(const ks_kiln_map *map, const char *kiln, ks_arena *arena);
const char *ks_answer_losses(const ks_losses *losses, ks_arena *arena);
const char *ks_answer_accounts(int n, const ks_account *accounts, ks_arena *arena);
const char *ks_answer_waiting(int n, const ks_waiting_ware *waiting, ks_arena *arena);
const char *ks_answer_health(const ks_book_health *health, ks_arena *arena);
const char *ks_answer_stock(const ks_kiln_stock *stock, ks_arena *arena);
const char *ks_answer_next(const ks_next_outcome *next, ks_arena *arena);
const char *ks_answer_pots(int n, const ks_pot_life *pots, ks_arena *arena);
const char *ks_answer_written(const char *path, int added, ks_arena *arena);

#endif
