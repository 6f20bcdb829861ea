#include "studio/reading/ware_cells.h"

#include "base/fold.h"
#include "base/unit_names.h"
#include "base/words.h"

#include <string.h>

enum { MOST_ITEMS = 300 };

const char *ks_cell_with_unit(const char *text, const char *unit, ks_arena *arena)
{
    double number;
    if (!unit || ks_number_parse(text, &number) != NULL)
        return text;
    return ks_arena_print(arena, "%s %s", text, unit);
}

const char *ks_cell_of_diameter(const char *text)
{
    static const char *const signs[] = {"\u00D8", "\u00F8", "\u2300"};
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
        if (strncmp(text, signs[i], strlen(signs[i])) == 0)
            return ks_blanks_skip(text + strlen(signs[i]));
    return text;
}

bool ks_cell_has_thousands_point(const char *text)
{
    static const char digits[] = "0123456789", more[] = "0123456789.,";
    for (const char *at = text; *at;) {
        at += strcspn(at, digits);
        size_t length = strspn(at, more), before = strspn(at, digits);
        if (before > 0 && before < 4 && *at != '0' && length == before + 4 && at[before] == '.' &&
            strspn(at + before + 1, digits) == 3)
            return true;
        at += length;
    }
    return false;
}

const char *ks_cell_stage(const char *text, ks_arena *arena)
{
    static const char *const stages[][2] = {
        {"leather-hard", "leather hard|leatherhard|leather|soft leather hard|stiff leather hard"},
        {"dry", "greenware|green ware|green|bone dry|bone-dry|bonedry|unfired|raw|air dry|air-dry"},
        {"bisque",
         "bisqued|bisque ware|bisqueware|bisque fired|bisque-fired|biscuit|biscuit ware|once fired|"
         "once-fired"},
        {"glazed", "glaze|glazed bisque|glazed bisqueware|glost|ready to glaze fire"},
        {"fired", "refire|re-fire|refired|glaze fired|glaze-fired|finished|twice fired"},
    };
    const char *word = ks_text_plain(text, arena);
    for (size_t i = 0; i < sizeof stages / sizeof *stages; i++)
        if (strcmp(word, stages[i][0]) == 0 || ks_word_among(word, stages[i][1]))
            return stages[i][0];
    return text;
}

static const char *trimmed(const char *from, const char *to, ks_arena *arena)
{
    while (from < to && *from == ' ')
        from++;
    while (to > from && to[-1] == ' ')
        to--;
    return ks_arena_text_n(arena, from, (size_t)(to - from));
}

/* Makes the cell an array or object with room for `most` items; they are added one by one. */
static void open_it(ks_json *cell, ks_json_kind kind, int most, ks_arena *arena)
{
    cell->kind = kind;
    cell->n = 0;
    cell->items = KS_TAKE(arena, most, ks_json);
}

static ks_json *add_item(ks_json *cell, const char *key, const char *text)
{
    return ks_json_cell(cell, key, text, cell->line, cell->column);
}

void ks_cell_as_list(ks_json *cell, const char *separators, ks_arena *arena)
{
    const char *at = cell->text;
    int n = 1;
    for (const char *c = at; *c; c++)
        n += strchr(separators, *c) != NULL;
    open_it(cell, KS_JSON_ARRAY, n, arena);
    for (; n > 0; n--) {
        size_t length = strcspn(at, separators);
        add_item(cell, NULL, trimmed(at, at + length, arena));
        at += length + (at[length] != '\0');
    }
    cell->text = NULL;
}

static bool is_length(const char *text, const char *unit, const ks_field_reader *reader)
{
    double mm;
    const char *bare = unit ? unit : reader->units.length;
    return ks_quantity_parse(KS_LENGTH, text, bare ? bare : "mm", &mm) == NULL;
}

/* The dash between from and to: one that leaves a length on both sides ("3/4-3-1/8"). */
static const char *dash_between(const char *text, const char *unit, const ks_field_reader *reader)
{
    for (const char *dash = strchr(text, '-'); dash; dash = strchr(dash + 1, '-'))
        if (is_length(trimmed(text, dash, reader->arena), unit, reader) &&
            is_length(trimmed(dash + 1, dash + strlen(dash), reader->arena), unit, reader))
            return dash;
    return NULL;
}

void ks_cell_as_handle(ks_json *cell, const char *unit, const ks_field_reader *reader)
{
    static const char *const keys[] = {"reach", "width", "from", "to"};
    const char *text = cell->text, *cross = strchr(text, 'x'), *at = strchr(text, '@');
    bool yes = ks_words_find("yes|y|true|1|x", text, true) >= 0;
    if (yes || ks_words_find("no|n|none|false|0|-", text, true) >= 0) {
        cell->kind = KS_JSON_BOOL;
        cell->truth = yes;
        cell->text = NULL;
        return;
    }
    const char *dash = at ? dash_between(at + 1, unit, reader) : NULL;
    if (!cross || !at || cross > at || !dash) {
        ks_json_fail(
            cell, reader->err,
            "found \"%.60s\"; write \"yes\" for a usual one, or as \"35x20@30-80\": reach x "
            "width @ from-to, in height",
            text);
        return;
    }
    const char *from[] = {text, cross + 1, at + 1, dash + 1};
    const char *to[] = {cross, at, dash, text + strlen(text)};
    open_it(cell, KS_JSON_OBJECT, 4, reader->arena);
    for (int i = 0; i < 4; i++)
        add_item(cell, keys[i],
                 ks_cell_with_unit(trimmed(from[i], to[i], reader->arena), unit, reader->arena));
    cell->text = NULL;
}

static void profile_point(ks_json *cell, const char *from, const char *to, const char *unit,
                          const ks_field_reader *reader)
{
    const char *colon = memchr(from, ':', (size_t)(to - from));
    if (!colon) {
        ks_json_fail(cell, reader->err,
                     "found \"%.*s\"; a point of a profile is \"60:52\", "
                     "height:radius, with blanks between points",
                     (int)(to - from), from);
        return;
    }
    ks_json *point = add_item(cell, NULL, NULL);
    open_it(point, KS_JSON_ARRAY, 2, reader->arena);
    add_item(point, NULL,
             ks_cell_with_unit(trimmed(from, colon, reader->arena), unit, reader->arena));
    add_item(point, NULL,
             ks_cell_with_unit(trimmed(colon + 1, to, reader->arena), unit, reader->arena));
}

void ks_cell_as_profile(ks_json *cell, const char *unit, const ks_field_reader *reader)
{
    const char *at = cell->text;
    open_it(cell, KS_JSON_ARRAY, MOST_ITEMS, reader->arena);
    while (*at && cell->n < MOST_ITEMS) {
        size_t blanks = strspn(at, " \t\n"), length = strcspn(at + blanks, " \t\n");
        if (length > 0)
            profile_point(cell, at + blanks, at + blanks + length, unit, reader);
        at += blanks + length;
    }
    cell->text = NULL;
}

static void add_step(ks_json *list, const char *step, const char *time, ks_arena *arena)
{
    ks_json *work = add_item(list, NULL, NULL);
    open_it(work, KS_JSON_OBJECT, 2, arena);
    add_item(work, "step", step);
    add_item(work, "time", time);
}

/* Where the item ends: the comma within "6,5 min" parts nothing. */
static size_t to_next_step(const char *at)
{
    static const char signs[] = ",;|+", digits[] = "0123456789";
    size_t length = strcspn(at, signs);
    while (at[length] == ',' && length > 0 && strchr(digits, at[length - 1]) && at[length + 1] &&
           strchr(digits, at[length + 1]))
        length += 1 + strcspn(at + length + 1, signs);
    return length;
}

void ks_cell_as_labour(ks_json *cell, const char *unit, const ks_field_reader *reader)
{
    static const char digits[] = "0123456789";
    ks_arena *arena = reader->arena;
    if (strcspn(cell->text, digits) == 0) {
        cell->text = ks_cell_with_unit(cell->text, unit, arena);
        return;
    }
    const char *at = cell->text;
    open_it(cell, KS_JSON_ARRAY, MOST_ITEMS, arena);
    while (*at && cell->n < MOST_ITEMS) {
        size_t length = to_next_step(at), words = strcspn(at, digits);
        words = words < length ? words : length;
        add_step(cell, trimmed(at, at + words, arena),
                 ks_cell_with_unit(trimmed(at + words, at + length, arena), unit, arena), arena);
        at += length + (at[length] != '\0');
    }
    cell->text = NULL;
}

void ks_cell_labour_step(ks_json *row, const char *step, const char *time, int line, int column,
                         ks_arena *arena)
{
    ks_json *list = NULL;
    for (int i = 0; i < row->n && !list; i++)
        if (strcmp(row->items[i].key, "labour") == 0)
            list = &row->items[i];
    if (!list) {
        list = ks_json_cell(row, "labour", NULL, line, column);
        open_it(list, KS_JSON_ARRAY, MOST_ITEMS, arena);
    }
    if (list->n < MOST_ITEMS)
        add_step(list, step, time, arena);
}
