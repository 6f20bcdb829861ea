#include "base/fields.h"

#include "base/date.h"
#include "base/money.h"
#include "base/text.h"

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

static ks_status read_quantity(const slot *s)
{
    ks_quantity quantity = (ks_quantity)(s->field->kind - KS_FIELD_LENGTH);
    const char *bare = s->field->unit ? s->field->unit : ks_units_of(&s->reader->units, quantity);
    double value;
    const char *text = s->node->text ? s->node->text : "";
    const char *fault = ks_quantity_parse(quantity, text, bare, &value);
    /* More digits than exact sums hold, or the program's own unit: as the number was read. */
    if (s->node->kind == KS_JSON_NUMBER && bare &&
        (fault || ks_quantity_of(quantity, s->node->number, bare) == s->node->number)) {
        value = ks_quantity_of(quantity, s->node->number, bare);
        fault = NULL;
    }
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

static bool is_word_of(const char *word, const char *words)
{
    for (size_t length; *words; words += length + (words[length] == '|')) {
        length = strcspn(words, "|");
        if (strlen(word) == length && strncmp(word, words, length) == 0)
            return true;
    }
    return false;
}

static ks_status read_bool(const slot *s)
{
    char lower[8] = "";
    const char *text = s->node->from_cell && s->node->text ? s->node->text : "";
    for (size_t i = 0; text[i] && i + 1 < sizeof lower; i++)
        lower[i] = (char)(text[i] >= 'A' && text[i] <= 'Z' ? text[i] + 32 : text[i]);
    bool yes = *lower && is_word_of(lower, "yes|y|true|x|1");
    bool no = *lower && is_word_of(lower, "no|n|false|0");
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
    *(const char **)s->into = text;
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

/* "top, front or side" of "top|front|side"; the word nearest to what was found goes before. */
static const char *words_told(const slot *s)
{
    ks_text told = {.arena = s->reader->arena};
    const char *words[64] = {0};
    int n = 0;
    for (const char *at = s->field->words; *at && n < 64;) {
        size_t length = strcspn(at, "|");
        words[n++] = ks_arena_text_n(s->reader->arena, at, length);
        at += length + (at[length] == '|');
    }
    const char *near = s->node->kind == KS_JSON_TEXT ? ks_nearest(s->node->text, words, n) : NULL;
    if (near)
        ks_text_print(&told, "did you mean \"%s\"? ", near);
    ks_text_add(&told, near ? "It is one of " : "it must be one of ");
    for (int i = 0; i < n; i++)
        ks_text_print(&told, "%s\"%s\"", i == 0 ? "" : i == n - 1 ? " or " : ", ", words[i]);
    return ks_text_end(&told);
}

static ks_status read_word(const slot *s)
{
    int place = 0;
    const char *text = s->node->kind == KS_JSON_TEXT ? s->node->text : NULL;
    for (const char *at = s->field->words; text && *at; place++) {
        size_t length = strcspn(at, "|");
        bool same = strlen(text) == length && strncmp(text, at, length) == 0;
        if (same || (s->node->from_cell &&
                     ks_same_word(text, ks_arena_text_n(s->reader->arena, at, length)))) {
            *(int *)s->into = place;
            return KS_OK;
        }
        at += length + (at[length] == '|');
    }
    return wrong(s, words_told(s));
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

static ks_status refuse_unknown(const ks_json *member, const ks_field *fields, int n,
                                const ks_field_reader *reader)
{
    const char **keys = KS_TAKE(reader->arena, n, const char *);
    for (int i = 0; i < n; i++)
        keys[i] = fields[i].key;
    return ks_json_unknown(member, keys, n, reader->err);
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
            status = refuse_unknown(member, fields, n, reader);
        else if (field->at != KS_FIELD_NOWHERE)
            status = ks_field_value(member, field, reader, (char *)into + field->at);
        fine = fine && !status;
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
    for (int i = 0; i < n_fields; i++)
        if (fields[i].required && !ks_json_get(object, fields[i].key))
            fine = !ks_json_lacks(object, fields[i].key, reader->err, "it is needed here") && fine;
    return fine ? KS_OK : KS_BAD_INPUT;
}

ks_status ks_array_check(const ks_json *node, int least, int most, ks_error *err)
{
    if (!node)
        return KS_OK;
    if (node->kind != KS_JSON_ARRAY)
        return ks_json_fail(node, err, "found %s; an array [...] is needed",
                            ks_json_found(node).words);
    if (node->n < least || node->n > most)
        return ks_json_fail(node, err, "found %d elements; from %d to %d are needed", node->n,
                            least, most);
    return KS_OK;
}

ks_status ks_units_read(const ks_json *file, ks_units *out, ks_error *err)
{
    static const char *const keys[] = {"length", "mass", "temperature"};
    static const char *const words[] = {"mm|cm|m|in|ft", "kg|g|lb|oz", "C|F|K"};
    const ks_json *units = ks_json_get(file, "units");
    const char **into[] = {&out->length, &out->mass, &out->temp};
    *out = (ks_units){0};
    if (!units)
        return KS_OK;
    if (units->kind != KS_JSON_OBJECT)
        return ks_json_fail(units, err, "found %s; write {\"length\": \"mm\"} or the like",
                            ks_json_found(units).words);
    ks_status status = ks_json_only(units, keys, 3, err);
    for (int i = 0; i < 3; i++) {
        const ks_json *unit = ks_json_get(units, keys[i]);
        if (!unit)
            continue;
        if (unit->kind == KS_JSON_TEXT && is_word_of(unit->text, words[i]))
            *into[i] = unit->text;
        else
            status = ks_json_fail(unit, err, "found %s; it must be one of %s",
                                  ks_json_found(unit).words, words[i]);
    }
    return status;
}

ks_status ks_format_check(const ks_json *file, const char *format, ks_error *err)
{
    if (file->kind != KS_JSON_OBJECT)
        return ks_json_fail(file, err, "found %s; an object {...} is needed",
                            ks_json_found(file).words);
    const ks_json *found = ks_json_get(file, "format");
    if (!found)
        return ks_fail(err, KS_BAD_INPUT, "%s:%d: format: found nothing; write \"format\": \"%s\"",
                       file->file, file->line, format);
    if (found->kind != KS_JSON_TEXT || strcmp(found->text, format) != 0)
        return ks_json_fail(found, err, "found %s; \"%s\" is needed here",
                            ks_json_found(found).words, format);
    return KS_OK;
}
