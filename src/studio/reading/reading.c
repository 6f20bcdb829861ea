#include "studio/reading/reading.h"

#include "base/fold.h"
#include "base/language.h"
#include "base/text.h"
#include "studio/names.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *id_at(const ks_id_list *list, int i)
{
    return *(const char *const *)((const char *)list->first + (size_t)i * list->size);
}

int ks_id_place(const ks_id_list *list, const char *id)
{
    for (int i = 0; i < list->n; i++)
        if (id_at(list, i) && strcmp(id_at(list, i), id) == 0)
            return i;
    return -1;
}

int ks_id_place_alike(const ks_id_list *list, const char *id)
{
    int place = ks_id_place(list, id), alike = -1;
    if (place >= 0)
        return place;
    for (int i = 0; i < list->n; i++) {
        if (!id_at(list, i) || !ks_text_alike(id_at(list, i), id))
            continue;
        if (alike >= 0)
            return -1;
        alike = i;
    }
    return alike;
}

static const char *nearest_id(const ks_id_list *list, const char *id, ks_arena *arena)
{
    const char **ids = KS_TAKE(arena, list->n, const char *);
    int n = 0;
    for (int i = 0; i < list->n; i++)
        if (id_at(list, i))
            ids[n++] = id_at(list, i);
    const char *nearest = ks_nearest(id, ids, n);
    return n == 1 ? ids[0] : nearest;
}

static void note_unknown_id(const ks_json *node, const char *id, const ks_id_list *list,
                            ks_error *err)
{
    ks_arena scratch = {0};
    const char *nearest = nearest_id(list, id, &scratch);
    if (nearest)
        ks_json_fail(node, err, "found \"%.80s\", but there is no such %s; the nearest is \"%s\"",
                     id, list->noun, nearest);
    else if (list->n > 0)
        ks_json_fail(node, err, "found \"%.80s\", but there is no such %s among the %d described",
                     id, list->noun, list->n);
    else
        ks_json_fail(node, err,
                     "found \"%.80s\", but no %s is described; describe it, or leave this out", id,
                     list->noun);
    ks_arena_finish(&scratch);
}

static int note_place_or(const ks_json *node, const char *id, const ks_id_list *list, ks_error *err)
{
    int place = ks_id_place_alike(list, id);
    if (place < 0 && !(list->n == 0 && err && err->count > 0))
        note_unknown_id(node, id, list, err);
    return place;
}

int ks_id_refer(const ks_json *node, const ks_id_list *list, ks_error *err)
{
    if (node->kind == KS_JSON_TEXT)
        return note_place_or(node, node->text, list, err);
    ks_json_fail(node, err, "found %s; the id of a %s is needed, in quotes",
                 ks_json_found(node).words, list->noun);
    return -1;
}

int ks_id_refer_key(const ks_json *node, const ks_id_list *list, ks_error *err)
{
    return note_place_or(node, node->key, list, err);
}

void ks_word_check(const ks_json *object, const char *key, const char *words, ks_error *err)
{
    const ks_json *node = ks_json_get(object, key);
    if (!node || node->kind != KS_JSON_TEXT || !*node->text ||
        ks_word_place(words, node->text) >= 0)
        return;
    char either[120] = "";
    for (int i = 0; *ks_word_at(words, i).text; i++) {
        size_t used = strlen(either);
        (void)snprintf(either + used, sizeof either - used, "%s\"%s\"", i > 0 ? " or " : "",
                       ks_word_at(words, i).text);
    }
    ks_json_fail(node, err, "found %s; it must be %s", ks_json_found(node).words, either);
}

void ks_note_read(ks_reading *reading, const char *path)
{
    ks_order *order = reading->order;
    order->read = KS_GROW(reading->fields.arena, order->read, order->n_read, &reading->read_room,
                          const char *);
    order->read[order->n_read++] = path;
}

void ks_warn(ks_reading *reading, const ks_json *node, const char *format, ...)
{
    ks_arena *arena = reading->fields.arena;
    ks_order *order = reading->order;
    char words[600];
    va_list args;
    va_start(args, format);
    (void)vsnprintf(words, sizeof words, format, args);
    va_end(args);
    order->warnings =
        KS_GROW(arena, order->warnings, order->n_warnings, &reading->warnings_room, const char *);
    order->warnings[order->n_warnings++] = ks_arena_print(
        arena, "%s:%d: %s: %s", node->file, node->line, ks_json_path(node, arena), words);
}

typedef struct {
    const char *id;
    int place;
} named_place;

static int by_id_then_place(const void *a, const void *b)
{
    const named_place *first = a, *second = b;
    int order = strcmp(first->id, second->id);
    return order != 0 ? order : first->place - second->place;
}

void ks_ids_unique(const ks_id_list *list, const ks_json *const *nodes, ks_reading *reading)
{
    named_place *all = KS_TAKE(reading->fields.arena, list->n, named_place);
    int n = 0;
    for (int i = 0; i < list->n; i++)
        if (id_at(list, i))
            all[n++] = (named_place){id_at(list, i), i};
    if (n > 1)
        qsort(all, (size_t)n, sizeof *all, by_id_then_place);
    for (int i = 1; i < n; i++) {
        const ks_json *first = nodes[all[i - 1].place];
        if (strcmp(all[i - 1].id, all[i].id) == 0)
            ks_json_fail(nodes[all[i].place], reading->fields.err,
                         "the id \"%s\" was already given on line %d of %s; each %s needs its own",
                         all[i].id, first->line, first->file, list->noun);
    }
}

void *ks_list_read(ks_reading *reading, const ks_json *node, int most, size_t size,
                   ks_element_reader read, int *n)
{
    *n = 0;
    if (!node || ks_array_check(node, 0, most, reading->fields.err) != KS_OK)
        return NULL;
    char *elements = ks_arena_take(reading->fields.arena, (size_t)node->n, size);
    *n = node->n;
    for (int i = 0; i < node->n; i++)
        read(reading, &node->items[i], elements + (size_t)i * size);
    return elements;
}

void *ks_named_list_read(ks_reading *reading, const ks_json *node, const char *noun, int most,
                         size_t size, ks_element_reader read, int *n)
{
    void *elements = ks_list_read(reading, node, most, size, read, n);
    const ks_json **nodes = KS_TAKE(reading->fields.arena, *n, const ks_json *);
    for (int i = 0; i < *n; i++)
        nodes[i] = &node->items[i];
    ks_id_list list = {noun, elements, size, *n};
    ks_ids_unique(&list, nodes, reading);
    return elements;
}

const char *ks_cone_read(const ks_json *node, ks_error *err)
{
    if (!node)
        return NULL;
    const char *text = node->kind == KS_JSON_TEXT || node->kind == KS_JSON_NUMBER ? node->text : "";
    int rank = ks_cone_rank(text);
    if (rank >= 0)
        return ks_cone_name(rank);
    ks_json_fail(node, err, "found %s; cones run from \"022\" over \"01\" and \"1\" to \"14\"",
                 ks_json_found(node).words);
    return NULL;
}

void ks_cones_read(const ks_json *node, const char **low, const char **high, ks_error *err)
{
    if (!node)
        return;
    if (node->kind != KS_JSON_ARRAY) {
        *low = *high = ks_cone_read(node, err);
        return;
    }
    if (ks_array_check(node, 2, 2, err) != KS_OK)
        return;
    const char *first = ks_cone_read(&node->items[0], err);
    const char *second = ks_cone_read(&node->items[1], err);
    if (first && second && ks_cone_rank(first) > ks_cone_rank(second))
        ks_json_fail(node, err, "cone %s is hotter than cone %s; the cooler one comes first", first,
                     second);
    *low = first;
    *high = second;
}

double ks_gridded(double mm)
{
    return round(mm * 1000) / 1000; /* KS_GRID, so that it prints with three decimals */
}

double ks_length_read(const ks_json *node, double least, double most, const ks_field_reader *reader)
{
    const ks_field field = {.kind = KS_FIELD_LENGTH, .least = least, .most = most};
    double mm = 0;
    if (node && ks_field_value(node, &field, reader, &mm) != KS_OK)
        mm = 0;
    return mm;
}

void ks_default_note(const char **list, const char *what, ks_arena *arena)
{
    if (!*list || !**list)
        *list = what;
    else if (!strstr(*list, what))
        *list = ks_joined(*list, ", ", what, arena);
}

static const char *default_word(const char *word, ks_arena *arena)
{
    const char *family = strchr(word, '"');
    if (family && strncmp(word, "sizes of ", (size_t)(family - word)) == 0)
        return ks_arena_print(arena, "sizes of %s", family);
    return ks_tr(word);
}

const char *ks_default_words(const char *list, ks_arena *arena)
{
    ks_text words = {.arena = arena};
    for (size_t length; *list; list += length + strspn(list + length, ", ")) {
        length = strcspn(list, ",");
        ks_text_add(&words, words.length > 0 ? ", " : "");
        ks_text_add(&words, default_word(ks_arena_text_n(arena, list, length), arena));
    }
    return ks_text_end(&words);
}

bool ks_default_take(double *value, double usual, const char **list, const char *what,
                     ks_arena *arena)
{
    if (!isnan(*value))
        return false;
    *value = usual;
    ks_default_note(list, what, arena);
    return true;
}
