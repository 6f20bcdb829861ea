#include "studio/terms/window_file.h"

#include "base/text.h"

#include <string.h>

enum { ALL_WEEKDAYS = 127, ALL_MONTHS = 4095 };

const ks_window ks_window_always = {ALL_WEEKDAYS, ALL_MONTHS, 0, 0};

static const char *const weekday_names[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun", NULL};
static const char *const month_names[] = {"jan", "feb", "mar", "apr", "may", "jun", "jul",
                                          "aug", "sep", "oct", "nov", "dec", NULL};

static int name_place(const char *const *names, const char *word, size_t length)
{
    for (int i = 0; names[i]; i++)
        if (length == 3 && strncmp(names[i], word, 3) == 0)
            return i;
    return -1;
}

static unsigned range_bits(int from, int to, int n)
{
    unsigned bits = 1u << to;
    for (int i = from; i != to; i = (i + 1) % n)
        bits |= 1u << i;
    return bits;
}

/* "mon-fri,sun" as bits; a range may run over the end of the row ("oct-mar"). */
static bool read_mask(const char *text, const char *const *names, unsigned *mask)
{
    int n = 0;
    while (names[n])
        n++;
    for (*mask = 0;; text++) {
        size_t length = strcspn(text, "-,");
        int from = name_place(names, text, length), to = from;
        text += length;
        if (*text == '-') {
            length = strcspn(++text, ",");
            to = name_place(names, text, length);
            text += length;
        }
        if (from < 0 || to < 0)
            return false;
        *mask |= range_bits(from, to, n);
        if (!*text)
            return true;
    }
}

static unsigned tell_mask(ks_reading *reading, const ks_json *told, const char *const *names,
                          unsigned all)
{
    unsigned mask = all;
    if (told && (told->kind != KS_JSON_TEXT || !read_mask(told->text, names, &mask)))
        ks_json_fail(told, reading->fields.err, "found %s; write it like \"%s-%s\" or \"%s,%s\"",
                     ks_json_found(told).words, names[0], names[4], names[0], names[2]);
    return mask;
}

static void write_mask(ks_json_out *out, const char *key, const char *const *names, unsigned mask)
{
    ks_text text = {.arena = out->text.arena};
    for (int i = 0; names[i]; i++)
        if (mask >> i & 1)
            ks_text_print(&text, "%s%s", text.length > 0 ? "," : "", names[i]);
    ks_out_text(out, key, ks_text_end(&text));
}

bool ks_window_is_always(const ks_window *window)
{
    return window->weekdays == ALL_WEEKDAYS && window->months == ALL_MONTHS &&
           window->from_min == window->to_min;
}

ks_window ks_window_read(ks_reading *reading, const ks_json *node, double from_s, double to_s)
{
    return (ks_window){
        .weekdays = tell_mask(reading, ks_json_get(node, "days"), weekday_names, ALL_WEEKDAYS),
        .months = tell_mask(reading, ks_json_get(node, "months"), month_names, ALL_MONTHS),
        .from_min = (int)(from_s / 60) % KS_DAY_MIN,
        .to_min = (int)(to_s / 60) % KS_DAY_MIN,
    };
}

void ks_window_days_write(ks_json_out *out, const ks_window *window)
{
    write_mask(out, "days", weekday_names, window->weekdays);
    write_mask(out, "months", month_names, window->months);
}
