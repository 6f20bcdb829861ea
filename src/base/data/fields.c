#include "base/data/fields.h"

#include "base/days/date.h"
#include "base/fold.h"
#include "base/money_text.h"
#include "base/text.h"
#include "base/words.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* Where a value goes, and by what rules. */
typedef struct {
    const ks_json *node;
    const ks_field *field;
    const ks_field_reader *reader;
    void *into;
} slot;

static const char *const quantity_units[] = {"mm", "kg", "C", "C/h", "s", "kW"};

static bool is_bounded(const ks_field *field)
{
    return field->least < field->most;
}

static ks_status wrong(const slot *s, const char *remedy)
{
    return ks_json_fail(s->node, s->reader->err, "found %s; %s", ks_json_found(s->node).words,
                        remedy);
}

/* Sizes outside their bounds are told in the unit of the bounds. */
static ks_status out_of_bounds(const slot *s, const char *unit)
{
    char least[KS_NUMBER_ROOM], most[KS_NUMBER_ROOM];
    ks_number_write(s->field->least, least);
    ks_number_write(s->field->most, most);
    return ks_json_fail(s->node, s->reader->err, "found %s; it must be from %s to %s%s%s",
                        ks_json_found(s->node).words, least, most, *unit ? " " : "", unit);
}

static ks_status put_double(const slot *s, double value, const char *unit)
{
    if (is_bounded(s->field) && !(value >= s->field->least && value <= s->field->most))
        return out_of_bounds(s, unit);
    *(double *)s->into = value;
    return KS_OK;
}

/* Told where it is met first; it then holds for every number of the kind, and the others only
 * count. */
static ks_status unit_missing(const slot *s, ks_quantity quantity, const char *fault)
{
    static const char *const declared[] = {"\"length\": \"mm\"", "\"mass\": \"kg\"",
                                           "\"temperature\": \"C\"", "\"temperature\": \"C\""};
    ks_error *err = s->reader->err;
    if (err && strstr(err->text, fault)) {
        err->count++;
        return KS_BAD_INPUT;
    }
    if (quantity > KS_RATE)
        return wrong(s, fault);
    return ks_json_fail(s->node, err, "found %s; %s, or declare it for the file: \"units\": {%s}",
                        ks_json_found(s->node).words, fault, declared[quantity]);
}

static ks_status read_quantity(const slot *s)
{
    ks_quantity quantity = (ks_quantity)(s->field->kind - KS_FIELD_LENGTH);
    const char *bare = s->field->unit ? s->field->unit : ks_units_of(&s->reader->units, quantity);
    bool bare_number = s->node->kind == KS_JSON_NUMBER && bare;
    double value = bare_number ? ks_quantity_of(quantity, s->node->number, bare) : 0;
    /* The program's own unit: as the number was read. */
    if (bare_number && value == s->node->number)
        return put_double(s, value, quantity_units[quantity]);
    double exact;
    const char *text = s->node->text ? s->node->text : "";
    const char *fault = ks_quantity_parse(quantity, text, bare, &exact);
    if (!fault)
        value = exact;
    else if (bare_number) /* more digits than exact sums hold */
        fault = NULL;
    if (fault && !bare && s->node->kind == KS_JSON_NUMBER)
        return unit_missing(s, quantity, fault);
    if (fault)
        return wrong(s, fault);
    return put_double(s, value, quantity_units[quantity]);
}

/* A number, also one written in a spreadsheet's cell. */
static ks_status find_number(const slot *s, double *value)
{
    const char *fault = "a number without quotes is needed";
    if (s->node->kind == KS_JSON_NUMBER) {
        *value = s->node->number;
        return KS_OK;
    }
    if (s->node->kind == KS_JSON_TEXT && s->node->from_cell)
        fault = ks_number_parse(s->node->text, value);
    return fault ? wrong(s, fault) : KS_OK;
}

static ks_status read_number(const slot *s)
{
    double value;
    ks_status status = find_number(s, &value);
    return status ? status : put_double(s, value, "");
}

static ks_status read_whole(const slot *s)
{
    double value;
    ks_status status = find_number(s, &value);
    if (status)
        return status;
    if (value != floor(value) || fabs(value) > 1e9)
        return wrong(s, "a whole number is needed");
    if (is_bounded(s->field) && !(value >= s->field->least && value <= s->field->most))
        return out_of_bounds(s, "");
    *(int *)s->into = (int)value;
    return KS_OK;
}

static ks_status read_bool(const slot *s)
{
    const char *text = s->node->from_cell && s->node->text ? s->node->text : "";
    bool yes = *text && ks_words_find("yes|y|true|x|1", text, true) >= 0;
    bool no = *text && ks_words_find("no|n|false|0", text, true) >= 0;
    if (s->node->kind != KS_JSON_BOOL && !yes && !no)
        return wrong(s, s->node->from_cell ? "write yes or no" : "true or false is needed");
    *(bool *)s->into = s->node->kind == KS_JSON_BOOL ? s->node->truth : yes;
    return KS_OK;
}

static bool has_control(const char *text)
{
    for (; *text; text++)
        if ((unsigned char)*text < ' ' || *text == 0x7F)
            return true;
    return false;
}

static ks_status refuse_word(const slot *s)
{
    const char *told = ks_words_print(s->field->words, s->reader->arena);
    const char *word = s->node->kind == KS_JSON_TEXT ? s->node->text : "";
    const char *nearest = ks_word_nearest(word, s->field->words, s->reader->arena);
    if (nearest)
        return ks_json_fail(s->node, s->reader->err,
                            "found %s; did you mean \"%s\"? It is one of %s",
                            ks_json_found(s->node).words, nearest, told);
    return ks_json_fail(s->node, s->reader->err, "found %s; it must be one of %s",
                        ks_json_found(s->node).words, told);
}

static ks_status read_text(const slot *s)
{
    const char *text = s->node->text;
    bool name = s->field->kind == KS_FIELD_NAME;
    if (s->node->kind != KS_JSON_TEXT)
        return wrong(s, "a text in double quotes is needed");
    if (name && !*text)
        return wrong(s, "it must not be empty");
    if (name && has_control(text))
        return wrong(s, "it must be on one line, without tabs");
    double length = (double)strlen(text);
    if (is_bounded(s->field) && length > s->field->most)
        return wrong(s, "make it shorter");
    if (is_bounded(s->field) && length < s->field->least)
        return wrong(s, "make it longer");
    if (s->field->words && !ks_word_among(text, s->field->words))
        return refuse_word(s);
    *(const char **)s->into = ks_text_compose(text, s->reader->arena);
    return KS_OK;
}

static ks_status read_date(const slot *s)
{
    const char *text = s->node->kind == KS_JSON_TEXT ? s->node->text : "";
    const char *fault = ks_date_parse(text, s->into);
    return fault ? wrong(s, fault) : KS_OK;
}

static ks_status read_money(const slot *s)
{
    int64_t minor;
    if (s->node->kind != KS_JSON_NUMBER && s->node->kind != KS_JSON_TEXT)
        return wrong(s, "an amount such as 12.50 is needed");
    const char *fault = ks_money_parse(s->node->text, s->reader->minor_digits, &minor);
    if (fault)
        return wrong(s, fault);
    double major = (double)minor / pow(10, s->reader->minor_digits);
    if (is_bounded(s->field) && !(major >= s->field->least && major <= s->field->most))
        return out_of_bounds(s, "");
    *(int64_t *)s->into = minor;
    return KS_OK;
}

static ks_status read_word(const slot *s)
{
    const char *text = s->node->kind == KS_JSON_TEXT ? s->node->text : NULL;
    int place = text ? ks_words_find(s->field->words, text, s->node->from_cell) : -1;
    if (place < 0)
        return refuse_word(s);
    *(int *)s->into = place;
    return KS_OK;
}

static ks_status keep_node(const slot *s)
{
    *(const ks_json **)s->into = s->node;
    return KS_OK;
}

ks_status ks_field_value(const ks_json *node, const ks_field *field, const ks_field_reader *reader,
                         void *into)
{
    static ks_status (*const readers[])(const slot *) = {
        [KS_FIELD_LENGTH] = read_quantity, [KS_FIELD_MASS] = read_quantity,
        [KS_FIELD_TEMP] = read_quantity,   [KS_FIELD_RATE] = read_quantity,
        [KS_FIELD_TIME] = read_quantity,   [KS_FIELD_POWER] = read_quantity,
        [KS_FIELD_NUMBER] = read_number,   [KS_FIELD_WHOLE] = read_whole,
        [KS_FIELD_BOOL] = read_bool,       [KS_FIELD_TEXT] = read_text,
        [KS_FIELD_NAME] = read_text,       [KS_FIELD_DATE] = read_date,
        [KS_FIELD_MONEY] = read_money,     [KS_FIELD_WORD] = read_word,
        [KS_FIELD_ELSEWHERE] = keep_node,
    };
    slot s = {node, field, reader, into};
    return readers[field->kind](&s);
}

static const ks_field *field_of(const ks_field *fields, int n, const char *key)
{
    for (int i = 0; i < n; i++)
        if (strcmp(fields[i].key, key) == 0)
            return &fields[i];
    return NULL;
}

static const char **keys_of(const ks_field *fields, int n, ks_arena *arena)
{
    const char **keys = KS_TAKE(arena, n, const char *);
    for (int i = 0; i < n; i++)
        keys[i] = fields[i].key;
    return keys;
}

static bool read_members(const ks_json *object, const ks_field *fields, int n,
                         const ks_field_reader *reader, void *into)
{
    bool fine = true;
    for (int i = 0; i < object->n; i++) {
        const ks_json *member = &object->items[i];
        const ks_field *field = field_of(fields, n, member->key);
        ks_status status = KS_OK;
        if (!field)
            status = ks_json_unknown(member, keys_of(fields, n, reader->arena), n, reader->err);
        else if (field->at != KS_FIELD_NOWHERE)
            status = ks_field_value(member, field, reader, (char *)into + field->at);
        fine = fine && !status;
    }
    return fine;
}

/* Whether an unknown key was most likely meant to be this one: then its absence is no news. */
static bool is_misspelt(const ks_json *object, const ks_field *fields, int n, const char *key,
                        const ks_field_reader *reader)
{
    for (int i = 0; i < object->n; i++) {
        const char *found = object->items[i].key;
        if (field_of(fields, n, found))
            continue;
        const char *nearest = ks_nearest(found, keys_of(fields, n, reader->arena), n);
        if (nearest && strcmp(nearest, key) == 0)
            return true;
    }
    return false;
}

static bool all_there(const ks_json *object, const ks_field *fields, int n,
                      const ks_field_reader *reader)
{
    bool fine = true;
    for (int i = 0; i < n; i++) {
        const char *key = fields[i].key;
        if (!fields[i].required || ks_json_get(object, key))
            continue;
        fine = false;
        if (!is_misspelt(object, fields, n, key, reader))
            (void)ks_json_lacks(object, key, reader->err, "it is needed here");
    }
    return fine;
}

ks_status ks_fields_read(const ks_json *object, const ks_field *fields, int n_fields,
                         const ks_field_reader *reader, void *into)
{
    if (object->kind != KS_JSON_OBJECT)
        return ks_json_fail(object, reader->err, "found %s; an object {...} is needed",
                            ks_json_found(object).words);
    bool fine = read_members(object, fields, n_fields, reader, into);
    fine = all_there(object, fields, n_fields, reader) && fine;
    return fine ? KS_OK : KS_BAD_INPUT;
}
