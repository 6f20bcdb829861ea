/* money_text.h: amounts in whole minor units of a currency, exactly. */
#ifndef KILNSTOW_BASE_MONEY_TEXT_H
#define KILNSTOW_BASE_MONEY_TEXT_H

#include "kilnstow/arena.h"

#include <stdint.h>

/* Digits after the point of an ISO 4217 currency (EUR 2, JPY 0, KWD 3); -1 = no such code. */
int ks_currency_digits(const char *code);

/* "12.50", "12,5", "-3" exactly into minor units. Refuses more decimals than `digits` unless they
 * are zeros, signs of currencies, and "1,250", which could be either. NULL or the reason. */
const char *ks_money_parse(const char *text, int digits, int64_t *minor);

/* The same, where a fraction of a minor unit is allowed (prices per kWh or kg). */
const char *ks_money_parse_fine(const char *text, int digits, double *minor);

const char *ks_money_print(int64_t minor, int digits, ks_arena *arena); /* "12.50" */

#endif
