#include "studio/reading/load_times.h"

#include "base/days/civil.h"
#include "base/days/date.h"

#include <string.h>

enum { MINUTE_S = 60 };

/* In the order in which they follow one another. */
static const ks_field times_fields[] = {
    KS_FIELD_KNOWN("on"),
    KS_FIELD_KNOWN("cone_down"),
    KS_FIELD_KNOWN("ended"),
    KS_FIELD_KNOWN("open"),
};
enum { N_TIMES = sizeof times_fields / sizeof *times_fields };

bool ks_clock_time_read(ks_reading *reading, const ks_json *node, int64_t *local_min)
{
    if (node->kind == KS_JSON_TEXT && ks_moment_parse(node->text, local_min))
        return true;
    ks_json_fail(node, reading->fields.err,
                 "found %s; a time on the studio's clock is needed, like \"2026-11-28 18:00\"",
                 ks_json_found(node).words);
    return false;
}

static void in_order(ks_reading *reading, const ks_json *node, const int64_t at_min[N_TIMES])
{
    for (int i = 1; i < N_TIMES; i++)
        if (at_min[i] < at_min[i - 1]) {
            ks_json_fail(node, reading->fields.err,
                         "these times do not follow one another; on, cone_down, ended and open are "
                         "needed in this order");
            return;
        }
}

void ks_load_times_read(ks_reading *reading, const ks_json *node, ks_load_times *times)
{
    int before = reading->fields.err->count;
    int64_t at_min[N_TIMES] = {0};
    *times = (ks_load_times){.told = node != NULL};
    if (!node)
        return;
    KS_FIELDS_READ(node, times_fields, &reading->fields, times);
    for (int i = 0; i < N_TIMES; i++) {
        const ks_json *time = ks_json_get(node, times_fields[i].key);
        if (time)
            (void)ks_clock_time_read(reading, time, &at_min[i]);
        else if (node->kind == KS_JSON_OBJECT)
            ks_json_lacks(node, times_fields[i].key, reading->fields.err,
                          "on, cone_down, ended and open are told together");
    }
    if (reading->fields.err->count == before)
        in_order(reading, node, at_min);
    *times = (ks_load_times){true, at_min[0], at_min[1], at_min[2], at_min[3]};
}

void ks_load_times_write(ks_json_out *out, const ks_load_times *times)
{
    const int64_t at_min[N_TIMES] = {times->on_min, times->cone_down_min, times->ended_min,
                                     times->open_min};
    if (!times->told)
        return;
    ks_out_object_flat(out, "times");
    for (int i = 0; i < N_TIMES; i++)
        ks_out_text(out, times_fields[i].key,
                    ks_civil_print(at_min[i] * MINUTE_S, out->text.arena));
    ks_out_end(out);
}
