#include "base/data/json.h"

#include "base/file.h"
#include "base/data/json_scan.h"
#include "base/text.h"

#include <assert.h>
#include <cjson/cJSON.h>
#include <stdlib.h>
#include <string.h>

/* The scan has decided and knows where everything stands; cJSON decodes and nests. Both go through
 * the values in the order in which they start. */
typedef struct {
    const char *file;
    const ks_json_place *place; /* of the value that is met next */
    ks_arena *arena;
    ks_error *err;
} builder;

static void build(builder *b, const cJSON *from, const ks_json *parent, int at, ks_json *node);

static int by_key(const void *a, const void *b)
{
    const ks_json *const *one = a, *const *other = b;
    int order = strcmp((*one)->key, (*other)->key);
    return order ? order : (*one < *other ? -1 : 1);
}

static void refuse_twins(builder *b, const ks_json *object)
{
    const ks_json **sorted = KS_TAKE(b->arena, object->n, const ks_json *);
    for (int i = 0; i < object->n; i++)
        sorted[i] = &object->items[i];
    qsort(sorted, (size_t)object->n, sizeof *sorted, by_key);
    for (int i = 1; i < object->n; i++)
        if (strcmp(sorted[i - 1]->key, sorted[i]->key) == 0)
            (void)ks_json_fail(sorted[i], b->err,
                               "found this key twice, first in line %d; keep one",
                               sorted[i - 1]->line);
}

static void build_items(builder *b, const cJSON *from, ks_json *node)
{
    for (const cJSON *item = from->child; item; item = item->next)
        node->n++;
    node->items = KS_TAKE(b->arena, node->n, ks_json);
    int at = 0;
    for (const cJSON *item = from->child; item; item = item->next, at++)
        build(b, item, node, at + 1, &node->items[at]);
    if (node->kind == KS_JSON_OBJECT && node->n > 1)
        refuse_twins(b, node);
}

static ks_json_kind kind_of(const cJSON *from)
{
    if (cJSON_IsObject(from))
        return KS_JSON_OBJECT;
    if (cJSON_IsArray(from))
        return KS_JSON_ARRAY;
    if (cJSON_IsString(from))
        return KS_JSON_TEXT;
    if (cJSON_IsNumber(from))
        return KS_JSON_NUMBER;
    return cJSON_IsBool(from) ? KS_JSON_BOOL : KS_JSON_NULL;
}

static void build(builder *b, const cJSON *from, const ks_json *parent, int at, ks_json *node)
{
    const ks_json_place *place = b->place++;
    *node = (ks_json){.kind = kind_of(from),
                      .truth = cJSON_IsTrue(from),
                      .line = place->line,
                      .column = place->column,
                      .file = b->file,
                      .text = place->digits,
                      .number = place->number,
                      .at = at,
                      .parent = parent};
    assert((node->kind == KS_JSON_NUMBER) == (place->digits != NULL));
    if (from->string)
        node->key = ks_arena_text(b->arena, from->string);
    if (node->kind == KS_JSON_TEXT)
        node->text = ks_arena_text(b->arena, from->valuestring);
    if (from->child)
        build_items(b, from, node);
}

/* Text that is known not to be too long. */
static ks_status parse(const char *name, ks_bytes text, size_t longest, ks_arena *arena,
                       const ks_json **out, ks_error *err)
{
    size_t length = text.length;
    char *scanned = ks_arena_text_n(arena, text.bytes, length);
    ks_json_place *places;
    int n_places;
    ks_status status = ks_json_scan(name, scanned, length, longest, arena, &places, &n_places, err);
    if (status)
        return status;
    cJSON *whole = cJSON_ParseWithLength(scanned, length);
    if (!whole) /* the scan leaves no other cause */
        ks_no_memory();
    int failures = err ? err->count : 0;
    ks_error own = {0};
    builder b = {ks_arena_text(arena, name), places, arena, err ? err : &own};
    ks_json *top = KS_TAKE(arena, 1, ks_json);
    build(&b, whole, NULL, 1, top);
    cJSON_Delete(whole);
    assert(b.place == places + n_places);
    *out = top;
    return b.err->count > failures ? KS_BAD_INPUT : KS_OK;
}

ks_status ks_json_parse_most(const char *name, ks_bytes text, size_t most, ks_arena *arena,
                             const ks_json **out, ks_error *err)
{
    enum { MIB = 1024 * 1024 };
    if (text.length > most)
        return ks_fail(err, KS_BAD_INPUT, "%s: found more than %g MiB; split the file", name,
                       (double)most / MIB);
    return parse(name, text, KS_JSON_LONGEST_TEXT, arena, out, err);
}

ks_status ks_json_parse_body(const char *name, ks_bytes text, ks_arena *arena, const ks_json **out,
                             ks_error *err)
{
    return parse(name, text, text.length, arena, out, err);
}

ks_status ks_json_parse(const char *name, const char *text, size_t length, ks_arena *arena,
                        const ks_json **out, ks_error *err)
{
    return ks_json_parse_most(name, (ks_bytes){text, length}, KS_JSON_LARGEST, arena, out, err);
}

ks_status ks_json_read_most(const char *path, size_t most, ks_arena *arena, const ks_json **out,
                            ks_error *err)
{
    ks_bytes file;
    ks_status status = ks_file_read(path, most, arena, &file, err);
    return status ? status : parse(ks_path_show(path), file, KS_JSON_LONGEST_TEXT, arena, out, err);
}

ks_status ks_json_read(const char *path, ks_arena *arena, const ks_json **out, ks_error *err)
{
    return ks_json_read_most(path, KS_JSON_LARGEST, arena, out, err);
}

const ks_json *ks_json_get(const ks_json *object, const char *key)
{
    if (!object || object->kind != KS_JSON_OBJECT)
        return NULL;
    for (int i = 0; i < object->n; i++)
        if (strcmp(object->items[i].key, key) == 0)
            return &object->items[i];
    return NULL;
}

static void add_key(const char *key, ks_text *path)
{
    enum { SHOWN = 40 };
    ks_text_add(path, path->length > 0 ? "." : "");
    ks_text_add_n(path, key, ks_utf8_valid(key, strnlen(key, SHOWN)));
}

static void add_path(const ks_json *node, ks_text *path)
{
    if (!node->parent)
        return;
    add_path(node->parent, path);
    if (node->key)
        add_key(node->key, path);
    else
        ks_text_print(path, "[%d]", node->at);
}

static const char *top_name(const ks_json *node)
{
    return node->from_cell ? "this row" : "the file";
}

const char *ks_json_path(const ks_json *node, ks_arena *arena)
{
    ks_text path = {.arena = arena};
    add_path(node, &path);
    return path.length > 0 ? ks_text_end(&path) : top_name(node);
}

/* A text in quotes, cut between characters, with a blank for each control character. */
static void quote(const char *text, ks_found *found)
{
    size_t length = strlen(text), most = sizeof found->words - 6;
    size_t kept = ks_utf8_valid(text, length < most ? length : most);
    char *to = found->words;
    *to++ = '"';
    for (size_t i = 0; i < kept; i++)
        *to++ = (unsigned char)text[i] < ' ' ? ' ' : text[i];
    strcpy(to, kept < length ? "...\"" : "\"");
}

ks_found ks_json_found(const ks_json *node)
{
    static const char *const words[] = {"null", "", "", "", "an array [...]", "an object {...}"};
    ks_found found = {{0}};
    if (node->kind == KS_JSON_TEXT)
        quote(node->text, &found);
    else if (node->kind == KS_JSON_NUMBER)
        strncpy(found.words, node->text, sizeof found.words - 1);
    else if (node->kind == KS_JSON_BOOL)
        strcpy(found.words, node->truth ? "true" : "false");
    else
        strcpy(found.words, words[node->kind]);
    return found;
}

static ks_status fail_at(const ks_json *node, const char *key, ks_error *err, const char *message)
{
    ks_arena arena = {0};
    ks_text path = {.arena = &arena};
    add_path(node, &path);
    if (key)
        add_key(key, &path);
    const char *told = path.length > 0 ? ks_text_end(&path) : top_name(node);
    ks_status status =
        ks_fail(err, KS_BAD_INPUT, "%s:%d: %s: %s", node->file, node->line, told, message);
    ks_arena_finish(&arena);
    return status;
}

ks_status ks_json_fail(const ks_json *node, ks_error *err, const char *format, ...)
{
    ks_arena arena = {0};
    ks_text message = {.arena = &arena};
    va_list args;
    va_start(args, format);
    ks_text_print_list(&message, format, args);
    va_end(args);
    ks_status status = fail_at(node, NULL, err, ks_text_end(&message));
    ks_arena_finish(&arena);
    return status;
}

ks_status ks_json_lacks(const ks_json *object, const char *key, ks_error *err, const char *remedy)
{
    ks_arena arena = {0};
    const char *message = ks_arena_print(&arena, "found nothing; %s", remedy);
    ks_status status = fail_at(object, key, err, message);
    ks_arena_finish(&arena);
    return status;
}

static bool among(const char *key, const char *const *keys, int n)
{
    for (int i = 0; i < n; i++)
        if (strcmp(key, keys[i]) == 0)
            return true;
    return false;
}

ks_status ks_json_unknown(const ks_json *member, const char *const *keys, int n_keys, ks_error *err)
{
    const char *nearest = ks_nearest(member->key, keys, n_keys);
    if (nearest)
        return ks_json_fail(member, err, "found an unknown key; did you mean \"%s\"?", nearest);
    return ks_json_fail(member, err, "found an unknown key; take it away");
}

ks_status ks_json_only(const ks_json *object, const char *const *keys, int n_keys, ks_error *err)
{
    ks_status status = KS_OK;
    for (int i = 0; object->kind == KS_JSON_OBJECT && i < object->n; i++)
        if (!among(object->items[i].key, keys, n_keys))
            status = ks_json_unknown(&object->items[i], keys, n_keys, err);
    return status;
}

ks_json *ks_json_row(const char *file, int line, int most, ks_arena *arena)
{
    ks_json *row = KS_TAKE(arena, 1, ks_json);
    *row = (ks_json){.kind = KS_JSON_OBJECT,
                     .from_cell = true,
                     .line = line,
                     .column = 1,
                     .file = file,
                     .items = KS_TAKE(arena, most, ks_json)};
    return row;
}

ks_json *ks_json_cell(ks_json *row, const char *key, const char *text, int line, int column)
{
    ks_json *cell = &row->items[row->n++];
    *cell = (ks_json){.kind = KS_JSON_TEXT,
                      .from_cell = true,
                      .line = line,
                      .column = column,
                      .file = row->file,
                      .key = key,
                      .text = text,
                      .at = row->n,
                      .parent = row};
    return cell;
}
