#include "studio/reading/writing.h"

#include "base/days/date.h"
#include "studio/names.h"
#include "studio/reading/reading.h"

static void write_double(ks_json_out *out, const ks_field *field, double value)
{
    if (isnan(value))
        return;
    if (field->kind == KS_FIELD_TIME)
        ks_out_text(
            out, field->key,
            ks_arena_print(out->text.arena, "%s s", ks_number_print(value, out->text.arena)));
    else
        ks_out_number(out, field->key, value);
}

static void write_text(ks_json_out *out, const char *key, const char *text)
{
    if (text && *text)
        ks_out_text(out, key, text);
}

static void write_field(ks_json_out *out, const ks_field *field, int minor_digits,
                        const void *place)
{
    switch (field->kind) {
    case KS_FIELD_WHOLE:
        ks_out_whole(out, field->key, *(const int *)place);
        break;
    case KS_FIELD_BOOL:
        ks_out_bool(out, field->key, *(const bool *)place);
        break;
    case KS_FIELD_TEXT:
    case KS_FIELD_NAME:
        write_text(out, field->key, *(const char *const *)place);
        break;
    case KS_FIELD_DATE:
        if (*(const int *)place != KS_NO_DAY)
            ks_out_text(out, field->key, ks_date_print(*(const int *)place, out->text.arena));
        break;
    case KS_FIELD_MONEY:
        if (*(const int64_t *)place != KS_NO_MONEY)
            ks_out_money(out, field->key, *(const int64_t *)place, minor_digits);
        break;
    case KS_FIELD_WORD:
        ks_out_text(out, field->key, ks_word_at(field->words, *(const int *)place).text);
        break;
    case KS_FIELD_ELSEWHERE:
        break;
    default:
        write_double(out, field, *(const double *)place);
    }
}

void ks_fields_write(ks_json_out *out, const ks_field *fields, int n_fields, int minor_digits,
                     const void *from)
{
    for (int i = 0; i < n_fields; i++)
        if (fields[i].kind != KS_FIELD_ELSEWHERE)
            write_field(out, &fields[i], minor_digits, (const char *)from + fields[i].at);
}

void ks_length_write(ks_json_out *out, const char *key, double mm)
{
    ks_out_number(out, key, ks_gridded(mm));
}

void ks_points_write(ks_json_out *out, const char *key, const ks_point *points, int n)
{
    ks_out_array_flat(out, key);
    for (int i = 0; i < n; i++) {
        ks_out_array(out, NULL);
        ks_length_write(out, NULL, points[i].x);
        ks_length_write(out, NULL, points[i].y);
        ks_out_end(out);
    }
    ks_out_end(out);
}

void ks_outline_write(ks_json_out *out, const char *key, const ks_outline *outline)
{
    ks_out_object_flat(out, key);
    if (outline->n == 1) {
        ks_out_array(out, "circle");
        ks_length_write(out, NULL, outline->at[0].x);
        ks_length_write(out, NULL, outline->at[0].y);
        ks_length_write(out, NULL, outline->round);
        ks_out_end(out);
    } else {
        ks_points_write(out, "polygon", outline->at, outline->n);
        if (outline->round > 0)
            ks_length_write(out, "round", outline->round);
    }
    ks_out_end(out);
}
