#include "studio/files/sizing.h"

#include "base/fold.h"
#include "base/text.h"
#include "base/unit_names.h"
#include "studio/reading/ware_cells.h"

#include <string.h>

enum { MOST_FAMILIES = 500, MOST_NUMBERS = 3 };

static const char *const family_keys[] = {
    "id",      "shape",  "diameter", "width", "depth", "height",   "corner", "foot",
    "profile", "handle", "spout",    "parts", "mass",  "wet_ball", "wall",   "outline",
    "setter",  "turn",   "price",    "clay",  "glaze", "glazes",   "labour"};
enum { N_FAMILY_KEYS = sizeof family_keys / sizeof *family_keys };

static const char *text_under(const ks_json *node, const char *key)
{
    const ks_json *member = ks_json_get(node, key);
    return member && member->kind == KS_JSON_TEXT ? member->text : "";
}

void ks_families_read(ks_reading *reading, const ks_json *node)
{
    ks_error *err = reading->fields.err;
    int before = err->count;
    if (!node || ks_array_check(node, 0, MOST_FAMILIES, err) != KS_OK)
        return;
    for (int i = 0; i < node->n; i++) {
        const ks_json *family = &node->items[i];
        if (family->kind != KS_JSON_OBJECT)
            ks_json_fail(family, err, "found %s; a family is {\"id\": \"mug M\", \"diameter\": …}",
                         ks_json_found(family).words);
        else if (!*text_under(family, "id"))
            ks_json_lacks(family, "id", err, "what a \"size\" names, such as \"mug M\"");
        ks_json_only(family, family_keys, N_FAMILY_KEYS, err);
        for (int j = 0; j < i; j++)
            if (ks_text_alike(text_under(family, "id"), text_under(&node->items[j], "id")) &&
                *text_under(family, "id"))
                ks_json_fail(family, err, "the family \"%.80s\" was already given on line %d",
                             text_under(family, "id"), node->items[j].line);
    }
    if (err->count == before)
        reading->families = node;
}

static const ks_json *family_in(const ks_json *families, const char *id)
{
    for (int i = 0; families && i < families->n; i++)
        if (ks_text_alike(text_under(&families->items[i], "id"), id))
            return &families->items[i];
    return NULL;
}

static const ks_json *usual_families(ks_arena *arena)
{
    const ks_json *families = NULL;
    (void)ks_json_parse("the families that come along", ks_usual_families,
                        strlen(ks_usual_families), arena, &families, NULL);
    return families;
}

static double mm_under(const ks_json *family, const char *key)
{
    double mm = 0;
    (void)ks_quantity_parse(KS_LENGTH, text_under(family, key), "mm", &mm);
    return mm;
}

const ks_family *ks_families_usual(int *n, ks_arena *arena)
{
    const ks_json *all = usual_families(arena);
    ks_family *families = KS_TAKE(arena, all->n, ks_family);
    for (*n = 0; *n < all->n; ++*n) {
        const ks_json *family = &all->items[*n];
        families[*n] = (ks_family){text_under(family, "id"), mm_under(family, "diameter"),
                                   mm_under(family, "height")};
    }
    return families;
}

/* By its name, or "M" of a piece called "mug". */
static const ks_json *name_family(ks_reading *reading, const ks_json *piece, const char *size,
                                  bool *own)
{
    ks_arena *arena = reading->fields.arena;
    const char *called = ks_arena_print(arena, "%s %s", text_under(piece, "name"), size);
    const ks_json *usual = usual_families(arena);
    const ks_json *found = family_in(reading->families, size);
    found = found ? found : family_in(reading->families, called);
    *own = found != NULL;
    found = found ? found : family_in(usual, size);
    return found ? found : family_in(usual, called);
}

/* The same piece with room for more to be told of it. */
static ks_json *copy(const ks_json *piece, int more, ks_arena *arena)
{
    ks_json *copy = ks_json_row(piece->file, piece->line, piece->n + more, arena);
    ks_json *items = copy->items;
    *copy = *piece;
    copy->items = items;
    if (piece->n > 0)
        memcpy(items, piece->items, (size_t)piece->n * sizeof *items);
    return copy;
}

static bool tells_body(const ks_json *piece)
{
    return ks_json_get(piece, "diameter") || ks_json_get(piece, "width") ||
           ks_json_get(piece, "profile") || ks_json_get(piece, "outline") ||
           ks_json_get(piece, "parts");
}

/* What the family tells and the piece does not. */
static void take_family(ks_json *piece, const ks_json *family)
{
    bool glazed = ks_json_get(piece, "glaze") || ks_json_get(piece, "glazes");
    bool weighed = ks_json_get(piece, "mass") || ks_json_get(piece, "wet_ball");
    for (int i = 0; i < family->n; i++) {
        const ks_json *told = &family->items[i];
        bool is_glaze = strncmp(told->key, "glaze", 5) == 0;
        bool is_mass = strcmp(told->key, "mass") == 0 || strcmp(told->key, "wet_ball") == 0;
        if (strcmp(told->key, "id") != 0 && !ks_json_get(piece, told->key) &&
            !(is_glaze && glazed) && !(is_mass && weighed))
            piece->items[piece->n++] = *told;
    }
}

/* One number of "15 x 8 cm". */
typedef struct {
    const char *text;
    const ks_unit *unit; /* NULL = bare */
} size_number;

static bool take_number(const char *from, size_t length, ks_arena *arena, size_number *out)
{
    char *text = ks_arena_text_n(arena, from, length);
    const char *at = ks_cell_of_diameter(ks_blanks_skip(text)), *starts = at;
    ks_rational number;
    if (ks_rational_read(&at, &number) != NULL)
        return false;
    out->unit = ks_unit_take(KS_LENGTH, &at);
    out->text = starts;
    return !*ks_blanks_skip(at);
}

/* Bytes from `at` to the next sign of multiplication, and of that sign; "by" is one too. */
static size_t to_cross(const char *at, size_t *sign)
{
    static const char *const signs[] = {"x", "X", "\u00D7", "*", " by "};
    size_t nearest = strlen(at);
    *sign = 0;
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++) {
        const char *found = strstr(at, signs[i]);
        if (found && (size_t)(found - at) < nearest) {
            nearest = (size_t)(found - at);
            *sign = strlen(signs[i]);
        }
    }
    return nearest;
}

/* The numbers, each with the unit that the last one carries where it has none; 0 = none such. */
static int take_numbers(const char *text, ks_arena *arena, size_number numbers[MOST_NUMBERS])
{
    int n = 0;
    for (const char *at = text;;) {
        size_t sign, length = to_cross(at, &sign);
        if (n == MOST_NUMBERS || !take_number(at, length, arena, &numbers[n++]))
            return 0;
        if (sign == 0)
            break;
        at += length + sign;
    }
    const ks_unit *last = numbers[n - 1].unit;
    for (int i = 0; i < n && last; i++)
        if (!numbers[i].unit)
            numbers[i].text = ks_arena_print(arena, "%s %.*s", numbers[i].text,
                                             (int)strcspn(last->names, "|"), last->names);
    return n;
}

int ks_size_numbers(const char *text, ks_arena *arena, double mm[3])
{
    size_number numbers[MOST_NUMBERS];
    int n = take_numbers(text, arena, numbers);
    for (int i = 0; i < n; i++)
        if (ks_quantity_parse(KS_LENGTH, numbers[i].text, NULL, &mm[i]) != NULL)
            return 0;
    return n;
}

const char *ks_size_with_unit(const char *text, const char *unit, ks_arena *arena)
{
    const char *digits = strpbrk(text, "0123456789");
    size_number numbers[MOST_NUMBERS];
    int n = unit && digits ? take_numbers(digits, arena, numbers) : 0;
    return n > 0 && !numbers[n - 1].unit ? ks_arena_print(arena, "%s %s", text, unit) : text;
}

static void told_as(ks_json *piece, const ks_json *size, const char *key, const char *text)
{
    if (ks_json_get(piece, key))
        return;
    ks_json *node = ks_json_cell(piece, key, text, size->line, size->column);
    node->parent = size->parent;
}

/* "bowl 15 cm", "15 x 8 cm", "20 x 20 x 3 cm"; false if it is nothing of that. */
static bool tell_numbers(ks_json *piece, const ks_json *size, ks_arena *arena)
{
    static const char *const round[] = {"diameter", "height"};
    static const char *const square[] = {"width", "depth", "height"};
    size_number numbers[MOST_NUMBERS];
    const char *digits = size->text + strcspn(size->text, "0123456789");
    char *word = ks_arena_text_n(arena, size->text, (size_t)(digits - size->text));
    const char *shape = ks_text_plain(word, arena);
    int n = take_numbers(ks_shape_single(shape) ? digits : size->text, arena, numbers);
    const char *single = ks_shape_single(shape) ? ks_shape_single(shape)
                                                : ks_shape_single(text_under(piece, "shape"));
    if (n == 0 || (n == 1 && !single))
        return false;
    if (ks_shape_single(shape))
        told_as(piece, size, "shape", shape);
    bool flat = n == 3 || (single && strcmp(single, "width") == 0);
    for (int i = 0; i < n; i++)
        told_as(piece, size, n == 1 ? single : flat ? square[i] : round[i], numbers[i].text);
    return true;
}

static void refuse_size(ks_reading *reading, const ks_json *size)
{
    ks_arena *arena = reading->fields.arena;
    const ks_json *usual = usual_families(arena);
    const char *ids[MOST_FAMILIES + 64];
    int n = 0;
    for (int i = 0; reading->families && i < reading->families->n; i++)
        ids[n++] = text_under(&reading->families->items[i], "id");
    for (int i = 0; i < usual->n && n < MOST_FAMILIES + 64; i++)
        ids[n++] = text_under(&usual->items[i], "id");
    const char *nearest = ks_nearest(size->text ? size->text : "", ids, n);
    ks_json_fail(
        size, reading->fields.err,
        "found %s; it is no family%s%s%s, no size such as \"15 x 8 cm\" (diameter x height) "
        "or \"20 x 15 x 3 cm\", and no shape with one number, such as \"bowl 15 cm\"",
        ks_json_found(size).words, nearest ? " (the nearest is \"" : "", nearest ? nearest : "",
        nearest ? "\")" : "");
}

static void take_size(ks_reading *reading, const ks_json *size, ks_json *piece, ks_sizing *out)
{
    ks_arena *arena = reading->fields.arena;
    bool own = false;
    const ks_json *family = name_family(reading, piece, size->text, &own);
    if (!family) {
        if (!tell_numbers(piece, size, arena))
            refuse_size(reading, size);
        return;
    }
    out->family = text_under(family, "id");
    if (!own)
        out->assumed = ks_joined("sizes of \"", out->family, "\"", arena);
    if (!tells_body(piece) || ks_json_get(piece, "diameter"))
        take_family(piece, family);
}

const ks_json *ks_piece_sized(ks_reading *reading, const ks_json *piece, ks_sizing *out)
{
    const ks_json *size = ks_json_get(piece, "size"), *shape = ks_json_get(piece, "shape");
    *out = (ks_sizing){"", ""};
    if (!size && !shape)
        return piece;
    ks_json *sized =
        copy(piece, N_FAMILY_KEYS + KS_SHAPE_FILLS + MOST_NUMBERS, reading->fields.arena);
    if (size && (size->kind == KS_JSON_TEXT || size->kind == KS_JSON_NUMBER))
        take_size(reading, size, sized, out);
    else if (size)
        refuse_size(reading, size);
    shape = ks_json_get(sized, "shape");
    if (shape && !ks_shape_fill(&reading->fields, text_under(sized, "shape"), sized, out))
        ks_json_fail(shape, reading->fields.err, "found %s; a shape is %s",
                     ks_json_found(shape).words, ks_shapes_tell(reading->fields.arena));
    return sized;
}
