#include "base/data/json_out.h"

#include "base/money_text.h"

#include <assert.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

enum { DEEPEST = sizeof((ks_json_out *)NULL)->kind };

static void escape_add(ks_text *to, const char *text)
{
    static const char letters[] = "btn_fr"; /* of the controls 8 to 13 */
    ks_text_add(to, "\"");
    while (*text) {
        uint32_t code = (unsigned char)*text;
        int bytes = ks_utf8_next(text, strnlen(text, 4), &code);
        if (*text == '"' || *text == '\\')
            ks_text_print(to, "\\%c", *text);
        else if (*text >= 8 && *text <= 13 && *text != 11)
            ks_text_print(to, "\\%c", letters[*text - 8]);
        else if (bytes > 0 && ks_is_control(code))
            ks_text_print(to, "\\u%04x", (unsigned)code);
        else
            ks_text_add_n(to, text, bytes > 0 ? (size_t)bytes : 1);
        text += bytes > 0 ? bytes : 1;
    }
    ks_text_add(to, "\"");
}

static void break_line(ks_json_out *out)
{
    ks_text_add(&out->text, "\n");
    for (int i = 0; i < out->depth; i++)
        ks_text_add(&out->text, "  ");
}

/* What stands before each value: comma, new line, key. */
static void begin(ks_json_out *out, const char *key)
{
    assert(out->depth > 0 || !out->follows);
    assert((key != NULL) == (out->depth > 0 && out->kind[out->depth - 1] == '{'));
    if (out->follows)
        ks_text_add(&out->text, out->flat_from > 0 ? ", " : ",");
    if (out->depth > 0 && out->flat_from == 0)
        break_line(out);
    if (key) {
        escape_add(&out->text, key);
        ks_text_add(&out->text, ": ");
    }
    out->follows = true;
}

static void open(ks_json_out *out, const char *key, char bracket, bool flat)
{
    begin(out, key);
    assert(out->depth < DEEPEST);
    ks_text_add_n(&out->text, &bracket, 1);
    out->kind[out->depth++] = (unsigned char)bracket;
    out->follows = false;
    if (flat && out->flat_from == 0)
        out->flat_from = out->depth;
}

void ks_out_object(ks_json_out *out, const char *key)
{
    open(out, key, '{', false);
}

void ks_out_object_flat(ks_json_out *out, const char *key)
{
    open(out, key, '{', true);
}

void ks_out_array(ks_json_out *out, const char *key)
{
    open(out, key, '[', false);
}

void ks_out_array_flat(ks_json_out *out, const char *key)
{
    open(out, key, '[', true);
}

void ks_out_end(ks_json_out *out)
{
    assert(out->depth > 0);
    bool empty = !out->follows, flat = out->flat_from > 0;
    if (out->flat_from == out->depth)
        out->flat_from = 0;
    out->depth--;
    if (!empty && !flat)
        break_line(out);
    ks_text_add(&out->text, out->kind[out->depth] == '{' ? "}" : "]");
    out->follows = true;
}

void ks_out_text(ks_json_out *out, const char *key, const char *text)
{
    begin(out, key);
    if (text)
        escape_add(&out->text, text);
    else
        ks_text_add(&out->text, "null");
}

void ks_out_number(ks_json_out *out, const char *key, double number)
{
    begin(out, key);
    if (isfinite(number))
        ks_text_add_number(&out->text, number);
    else
        ks_text_add(&out->text, "null");
}

void ks_out_whole(ks_json_out *out, const char *key, int64_t number)
{
    begin(out, key);
    ks_text_print(&out->text, "%" PRId64, number);
}

void ks_out_bool(ks_json_out *out, const char *key, bool truth)
{
    begin(out, key);
    ks_text_add(&out->text, truth ? "true" : "false");
}

void ks_out_null(ks_json_out *out, const char *key)
{
    ks_out_text(out, key, NULL);
}

void ks_out_money(ks_json_out *out, const char *key, int64_t minor, int digits)
{
    begin(out, key);
    ks_text_add(&out->text, ks_money_print(minor, digits, out->text.arena));
}

/* Line ends within texts are escaped, so every one that is met lies between values. */
void ks_out_json(ks_json_out *out, const char *key, const char *json)
{
    begin(out, key);
    size_t length = strlen(json);
    while (length > 0 && json[length - 1] == '\n')
        length--;
    for (const char *end = json + length; json < end;) {
        size_t line = strcspn(json, "\n");
        line = line < (size_t)(end - json) ? line : (size_t)(end - json);
        ks_text_add_n(&out->text, json, line);
        json += line;
        if (json < end && out->flat_from == 0)
            break_line(out);
        json += json < end;
        if (out->flat_from > 0)
            json += strspn(json, " ");
    }
}

const char *ks_out_done(ks_json_out *out)
{
    assert(out->depth == 0 && out->follows);
    ks_text_add(&out->text, "\n");
    return ks_text_end(&out->text);
}
