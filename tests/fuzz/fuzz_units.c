/* fuzz_units.c: quantities, money, dates and numbers of any bytes are read or refused in words. */
#include "base/days/date.h"
#include "base/money_text.h"
#include "base/number.h"
#include "base/units.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

static void require(bool holds)
{
    if (!holds)
        abort();
}

static void try_all(const char *text)
{
    static const char *const bare[] = {"in", "lb", "F", "F/h", NULL, "kW"};
    for (int quantity = KS_LENGTH; quantity <= KS_POWER; quantity++) {
        double value = NAN;
        const char *fault = ks_quantity_parse((ks_quantity)quantity, text, bare[quantity], &value);
        require(fault ? *fault && isnan(value) : isfinite(value));
    }
    double number;
    int64_t minor;
    int day;
    (void)ks_number_read(text, &number);
    (void)ks_number_parse(text, &number);
    (void)ks_money_parse_fine(text, 2, &number);
    if (!ks_money_parse(text, 2, &minor)) {
        ks_arena arena = {0};
        int64_t back = 0;
        require(!ks_money_parse(ks_money_print(minor, 2, &arena), 2, &back) && back == minor);
        ks_arena_finish(&arena);
    }
    if (!ks_date_parse(text, &day)) {
        ks_arena arena = {0};
        require(strcmp(ks_date_print(day, &arena), text) == 0);
        ks_arena_finish(&arena);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    char *text = malloc(length + 1);
    if (!text)
        return 0;
    if (length > 0)
        memcpy(text, bytes, length);
    text[length] = '\0';
    try_all(text);
    free(text);
    return 0;
}
