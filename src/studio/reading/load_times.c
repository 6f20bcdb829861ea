#include "studio/reading/load_times.h"

#include "base/days/civil.h"
#include "base/days/date.h"
#include "base/units.h"

#include <stddef.h>
#include <string.h>

enum { DATE_LENGTH = 10, TIME_LENGTH = 16, DAY_S = 86400, MINUTE_S = 60 };

static const struct {
    const char *key;
    size_t at;
} times_told[] = {
    {"on", offsetof(ks_load_times, on_min)},
    {"cone_down", offsetof(ks_load_times, cone_down_min)},
    {"ended", offsetof(ks_load_times, ended_min)},
    {"open", offsetof(ks_load_times, open_min)},
};
enum { N_TIMES = sizeof times_told / sizeof *times_told };

static const ks_field times_fields[] = {
    KS_FIELD_KNOWN("on"),
    KS_FIELD_KNOWN("cone_down"),
    KS_FIELD_KNOWN("ended"),
    KS_FIELD_KNOWN("open"),
};

bool ks_clock_time_read(ks_reading *reading, const ks_json *node, int64_t *local_min)
{
    int day;
    double time_s;
    const char *text = node->kind == KS_JSON_TEXT ? node->text : "";
    if (strlen(text) == TIME_LENGTH && text[DATE_LENGTH] == ' ' && text[DATE_LENGTH + 3] == ':' &&
        !ks_date_parse(ks_arena_text_n(reading->fields.arena, text, DATE_LENGTH), &day) &&
        !ks_quantity_parse(KS_TIME, text + DATE_LENGTH + 1, NULL, &time_s) && time_s < DAY_S) {
        *local_min = (int64_t)day * KS_DAY_MIN + (int64_t)(time_s / MINUTE_S);
        return true;
    }
    ks_json_fail(node, reading->fields.err,
                 "found %s; a time on the studio's clock is needed, like \"2026-11-28 18:00\"",
                 ks_json_found(node).words);
    return false;
}

static void in_order(ks_reading *reading, const ks_json *node, const ks_load_times *times)
{
    if (times->on_min > times->cone_down_min || times->cone_down_min > times->ended_min ||
        times->ended_min > times->open_min)
        ks_json_fail(node, reading->fields.err,
                     "these times do not follow one another; on, cone_down, ended and open are "
                     "needed in this order");
}

void ks_load_times_read(ks_reading *reading, const ks_json *node, ks_load_times *times)
{
    *times = (ks_load_times){.told = node != NULL};
    int before = reading->fields.err->count;
    if (!node)
        return;
    KS_FIELDS_READ(node, times_fields, &reading->fields, times);
    for (int i = 0; i < N_TIMES; i++) {
        const ks_json *time = ks_json_get(node, times_told[i].key);
        if (time)
            (void)ks_clock_time_read(reading, time,
                                     (int64_t *)(void *)((char *)times + times_told[i].at));
        else if (node->kind == KS_JSON_OBJECT)
            ks_json_lacks(node, times_told[i].key, reading->fields.err,
                          "on, cone_down, ended and open are told together");
    }
    if (reading->fields.err->count == before)
        in_order(reading, node, times);
}

void ks_load_times_write(ks_json_out *out, const ks_load_times *times)
{
    if (!times->told)
        return;
    ks_out_object_flat(out, "times");
    for (int i = 0; i < N_TIMES; i++) {
        int64_t at_min;
        memcpy(&at_min, (const char *)times + times_told[i].at, sizeof at_min);
        ks_out_text(out, times_told[i].key, ks_civil_print(at_min * MINUTE_S, out->text.arena));
    }
    ks_out_end(out);
}
