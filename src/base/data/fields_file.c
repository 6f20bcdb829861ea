/* What files have at their head, and lists. */
#include "base/data/fields.h"
#include "base/language.h"
#include "base/words.h"

#include <string.h>

ks_status ks_array_check(const ks_json *node, int least, int most, ks_error *err)
{
    if (!node)
        return KS_OK;
    if (node->kind != KS_JSON_ARRAY)
        return ks_json_fail(node, err, "found %s; an array [...] is needed",
                            ks_json_found(node).words);
    if (node->n >= least && node->n <= most)
        return KS_OK;
    if (least == most)
        return ks_json_fail(node, err,
                            ks_tr_count(node->n, "found %d element; %d are needed",
                                        "found %d elements; %d are needed"),
                            node->n, least);
    return ks_json_fail(node, err,
                        ks_tr_count(node->n, "found %d element; from %d to %d are needed",
                                    "found %d elements; from %d to %d are needed"),
                        node->n, least, most);
}

static ks_status refuse_unit(const ks_json *unit, const char *words, ks_error *err)
{
    ks_arena arena = {0};
    ks_status status = ks_json_fail(unit, err, "found %s; it must be one of %s",
                                    ks_json_found(unit).words, ks_words_print(words, &arena));
    ks_arena_finish(&arena);
    return status;
}

ks_status ks_units_read(const ks_json *file, ks_units *out, ks_error *err)
{
    static const char *const keys[] = {"length", "mass", "temperature"};
    static const char *const words[] = {"mm|cm|m|in|ft", "kg|g|lb|oz", "C|F|K"};
    static const ks_units usual = {"mm", "kg", "C"};
    const ks_json *units = ks_json_get(file, "units");
    const char **into[] = {&out->length, &out->mass, &out->temp};
    *out = units ? usual : (ks_units){0};
    if (!units)
        return KS_OK;
    if (units->kind != KS_JSON_OBJECT)
        return ks_json_fail(units, err, "found %s; write {\"length\": \"mm\"} or the like",
                            ks_json_found(units).words);
    ks_status status = ks_json_only(units, keys, 3, err);
    for (int i = 0; i < 3; i++) {
        const ks_json *unit = ks_json_get(units, keys[i]);
        if (!unit)
            *into[i] = status ? *into[i] : NULL;
        else if (unit->kind == KS_JSON_TEXT && ks_word_among(unit->text, words[i]))
            *into[i] = unit->text;
        else
            status = refuse_unit(unit, words[i], err);
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
