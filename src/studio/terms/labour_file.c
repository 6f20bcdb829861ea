#include "studio/terms/labour_file.h"

#include <stdlib.h>
#include <string.h>

enum { MOST_STEPS = 50 };
#define LONGEST_S 1e6

static const ks_field work_fields[] = {
    KS_FIELD(NAME, ks_piece_work, step, "step", .required = true, .least = 1, .most = 100),
    KS_FIELD(TIME, ks_piece_work, time_s, "time", .required = true, .most = LONGEST_S),
};

/* "6:30" of work is minutes and seconds to whoever reads a watch, and hours and minutes to a
 * spreadsheet, which also writes it as "06:30:00". Only without hours is it clear. */
static bool is_unclear(const char *text, int *first, int *second)
{
    static const char digits[] = "0123456789";
    const char *at = text + strspn(text, " ");
    size_t n = strspn(at, digits);
    if (n == 0 || n > 4 || at[n] != ':')
        return false;
    *first = atoi(at);
    *second = atoi(at + n + 1);
    const char *behind = at + n + 1 + strspn(at + n + 1, digits);
    return *first > 0 || *behind != ':';
}

static void refuse_unclear(ks_reading *reading, const ks_json *time)
{
    int first, second;
    if (time && time->text && is_unclear(time->text, &first, &second))
        ks_json_fail(time, reading->fields.err,
                     "found \"%.30s\"; of work that could be minutes or hours: write \"%d min %d "
                     "s\" or \"%d h %d\"",
                     time->text, first, second, first, second);
}

static void read_work(ks_reading *reading, const ks_json *node, void *into)
{
    refuse_unclear(reading, ks_json_get(node, "time"));
    KS_FIELDS_READ(node, work_fields, &reading->fields, into);
}

ks_piece_work *ks_labour_read(ks_reading *reading, const ks_json *node, int *n)
{
    static const ks_field lump = {.kind = KS_FIELD_TIME, .most = LONGEST_S};
    *n = 0;
    if (!node || node->kind == KS_JSON_ARRAY)
        return ks_list_read(reading, node, MOST_STEPS, sizeof(ks_piece_work), read_work, n);
    ks_piece_work *work = KS_TAKE(reading->fields.arena, 1, ks_piece_work);
    work->step = "";
    refuse_unclear(reading, node);
    if (ks_field_value(node, &lump, &reading->fields, &work->time_s) != KS_OK)
        return NULL;
    *n = 1;
    return work;
}

/* A lump is written as it is read. */
static void write_lump(ks_json_out *out, const char *key, double time_s)
{
    const ks_field lump = {.kind = KS_FIELD_TIME, .key = key, .at = 0};
    ks_fields_write(out, &lump, 1, 0, &time_s);
}

void ks_labour_write(ks_json_out *out, const char *key, int n, const ks_piece_work *work)
{
    if (n == 0)
        return;
    if (!*work[0].step) {
        write_lump(out, key, work[0].time_s);
        return;
    }
    ks_out_array(out, key);
    for (int i = 0; i < n; i++) {
        ks_out_object_flat(out, NULL);
        KS_FIELDS_WRITE(out, work_fields, 0, &work[i]);
        ks_out_end(out);
    }
    ks_out_end(out);
}
