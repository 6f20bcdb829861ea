/* log_told.h: entries of the record in words. */
#ifndef KILNSTOW_CLI_LOG_TOLD_H
#define KILNSTOW_CLI_LOG_TOLD_H

#include "kilnstow/learn.h"

void ks_cli_log_line_head(void);
void ks_cli_log_line(const ks_book_firing *firing, ks_arena *arena); /* one line of a table */
void ks_cli_log_entry(const ks_book_firing *firing, ks_arena *arena);

/* "12.33 EUR" of minor units. */
const char *ks_cli_amount(int64_t minor, int digits, const char *currency, ks_arena *arena);

#endif
