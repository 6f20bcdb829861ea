#include "base/data/json_scan.h"

#include "base/text.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* `text` ends in a NUL, which no rule of the grammar takes, so that no step runs beyond it. */
typedef struct {
    const char *name;
    char *text;
    size_t length, longest, at;
    size_t counted; /* line and column are those of this byte */
    int line, column;
    int depth;
    ks_arena *arena;
    ks_json_place *places;
    int n, room;
    ks_error *err;
} scan;

static bool scan_value(scan *s, size_t starts);

static void locate(scan *s, size_t at)
{
    assert(at >= s->counted);
    for (; s->counted < at; s->counted++) {
        char byte = s->text[s->counted];
        bool ends_line = byte == '\n' || (byte == '\r' && s->text[s->counted + 1] != '\n');
        s->line += ends_line;
        s->column = ends_line ? 1 : s->column + (((unsigned char)byte & 0xC0) != 0x80);
    }
}

/* Notes what was found at `at` and what would be right; false, so that callers can return it. */
static bool slip(scan *s, size_t at, const char *found, const char *remedy)
{
    locate(s, at);
    (void)ks_fail(s->err, KS_BAD_INPUT, "%s:%d:%d: found %s; %s", s->name, s->line, s->column,
                  found, remedy);
    return false;
}

/* Whatever stands at `at`, in words: a sign, or the letters and digits up to the next sign. */
static const char *found_at(scan *s, size_t at)
{
    const char *text = s->text + at;
    if (at >= s->length)
        return "the end of the file";
    size_t word = strcspn(text, " \t\r\n,:;\"'[]{}()\\/");
    size_t whole = ks_utf8_valid(text, word < 24 ? word : 24);
    if (whole == 0)
        whole = (size_t)ks_utf8_next(text, s->length - at, NULL);
    if (whole == 0)
        return ks_arena_print(s->arena, "the byte 0x%02X", (unsigned)(unsigned char)*text);
    if ((unsigned char)*text < ' ')
        return ks_arena_print(s->arena, "the control character 0x%02X", (unsigned)*text);
    return ks_arena_print(s->arena, *text == '"' ? "a %.*s" : "\"%.*s\"", (int)whole, text);
}

static void skip_blanks(scan *s)
{
    s->at += strspn(s->text + s->at, " \t\r\n");
}

static void add_place(scan *s, size_t starts)
{
    locate(s, starts);
    s->places = KS_GROW(s->arena, s->places, s->n, &s->room, ks_json_place);
    s->places[s->n++] = (ks_json_place){.line = s->line, .column = s->column};
}

static bool scan_unicode(scan *s)
{
    size_t starts = s->at;
    int code = ks_hex_four(s->text + s->at + 2);
    if (code < 0)
        return slip(s, starts, "\\u without four hexadecimal digits", "write it as \\u00e9");
    if (code == 0)
        return slip(s, starts, "\\u0000", "a text cannot hold that character");
    s->at += 6;
    if (code < 0xD800 || code > 0xDFFF)
        return true;
    bool paired = code < 0xDC00 && s->text[s->at] == '\\' && s->text[s->at + 1] == 'u';
    int low = paired ? ks_hex_four(s->text + s->at + 2) : -1;
    if (low < 0xDC00 || low > 0xDFFF)
        return slip(s, starts, "half of a surrogate pair", "write the character itself");
    s->at += 6;
    return true;
}

static bool scan_escape(scan *s)
{
    char letter = s->text[s->at + 1];
    if (letter == 'u')
        return scan_unicode(s);
    if (letter == '\0' || !strchr("\"\\/bfnrt", letter))
        return slip(s, s->at, "a backslash that starts no escape", "write \\\\ for a backslash");
    s->at += 2;
    return true;
}

static bool scan_letter(scan *s)
{
    unsigned char byte = (unsigned char)s->text[s->at];
    if (byte < ' ')
        return slip(s, s->at, found_at(s, s->at), "within a text write it as \\n, \\t or \\u00XX");
    int length = ks_utf8_next(s->text + s->at, s->length - s->at, NULL);
    if (length == 0)
        return slip(s, s->at, found_at(s, s->at), "save the file as UTF-8");
    s->at += (size_t)length;
    return true;
}

static bool scan_text(scan *s)
{
    size_t starts = s->at++;
    while (s->text[s->at] != '"') {
        if (s->at >= s->length)
            return slip(s, starts, "a text that is never closed", "close it with \"");
        if (s->at - starts > s->longest)
            return slip(s, starts, "a text of more than 4096 bytes", "make it shorter");
        if (!(s->text[s->at] == '\\' ? scan_escape(s) : scan_letter(s)))
            return false;
    }
    s->at++;
    return true;
}

static size_t digits_from(const scan *s, size_t at)
{
    return strspn(s->text + at, "0123456789");
}

/* Bytes of a number by the grammar of RFC 8259, section 6; 0 with *fault where there is none. */
static size_t number_bytes(const scan *s, const char **fault)
{
    size_t at = s->at + (s->text[s->at] == '-');
    size_t whole = digits_from(s, at);
    *fault = whole == 0                        ? "a number has digits before its point"
             : whole > 1 && s->text[at] == '0' ? "a number does not start with 0"
                                               : NULL;
    at += whole;
    if (!*fault && s->text[at] == '.') {
        size_t decimals = digits_from(s, at + 1);
        *fault = decimals == 0 ? "a number has digits after its point" : NULL;
        at += 1 + decimals;
    }
    if (!*fault && (s->text[at] == 'e' || s->text[at] == 'E')) {
        at += s->text[at + 1] == '+' || s->text[at + 1] == '-' ? 2 : 1;
        size_t exponent = digits_from(s, at);
        *fault = exponent == 0 ? "an exponent has digits" : NULL;
        at += exponent;
    }
    return *fault ? 0 : at - s->at;
}

static bool scan_number(scan *s)
{
    const char *fault;
    size_t bytes = number_bytes(s, &fault);
    if (bytes == 0)
        return slip(s, s->at, found_at(s, s->at), fault);
    if (bytes > KS_JSON_LONGEST_TEXT)
        return slip(s, s->at, "a number of more than 4096 digits", "make it shorter");
    ks_json_place *place = &s->places[s->n - 1];
    place->digits = ks_arena_text_n(s->arena, s->text + s->at, bytes);
    (void)ks_number_read(place->digits, &place->number);
    if (!isfinite(place->number))
        return slip(s, s->at, found_at(s, s->at), "a number is at most about 1.8e308");
    memset(s->text + s->at, ' ', bytes);
    s->text[s->at] = '0';
    s->at += bytes;
    return true;
}

/* What starts nothing that may stand here, with the remedies for what people are used to. */
static bool misplaced(scan *s, const char *needed)
{
    char sign = s->text[s->at];
    const char *remedy = needed;
    if (sign == '\'')
        remedy = "texts stand in double quotes";
    else if (sign == '/' || sign == '#')
        remedy = "JSON has no comments; use a \"note\"";
    else if (s->at < s->length && ks_utf8_next(s->text + s->at, s->length - s->at, NULL) == 0)
        remedy = "save the file as UTF-8";
    return slip(s, s->at, found_at(s, s->at), remedy);
}

static bool scan_word(scan *s)
{
    static const char *const words[] = {"true", "false", "null"};
    for (int i = 0; i < 3; i++)
        if (strncmp(s->text + s->at, words[i], strlen(words[i])) == 0) {
            s->at += strlen(words[i]);
            return true;
        }
    return misplaced(s, "a value is a text in double quotes, a number, true, false, null, [...] or "
                        "{...}");
}

static bool scan_member(scan *s)
{
    size_t starts = s->at;
    if (s->text[s->at] != '"')
        return misplaced(s, "a key in double quotes is needed here");
    if (!scan_text(s))
        return false;
    skip_blanks(s);
    if (s->text[s->at] != ':')
        return slip(s, s->at, found_at(s, s->at), "a : is needed between key and value");
    s->at++;
    skip_blanks(s);
    return scan_value(s, starts);
}

/* An array or object from its opening to its closing bracket. */
static bool scan_list(scan *s, char closing, bool (*scan_item)(scan *))
{
    size_t opened = s->at++;
    if (++s->depth > KS_JSON_DEEPEST)
        return slip(s, opened, "more than 64 brackets within each other", "nest less deeply");
    skip_blanks(s);
    for (bool first = true; first || s->text[s->at] != closing; first = false) {
        if (first && s->text[s->at] == closing)
            break;
        if (!first) {
            if (s->text[s->at] != ',')
                return slip(s, s->at, found_at(s, s->at),
                            closing == ']' ? "a , or ] is needed here" : "a , or } is needed here");
            s->at++;
            skip_blanks(s);
            if (s->text[s->at] == closing)
                return slip(s, s->at, found_at(s, s->at), "take away the comma before it");
        }
        if (!scan_item(s))
            return false;
        skip_blanks(s);
    }
    s->at++;
    s->depth--;
    return true;
}

static bool scan_element(scan *s)
{
    return scan_value(s, s->at);
}

static bool scan_value(scan *s, size_t starts)
{
    add_place(s, starts);
    char sign = s->text[s->at];
    if (sign == '{')
        return scan_list(s, '}', scan_member);
    if (sign == '[')
        return scan_list(s, ']', scan_element);
    if (sign == '"')
        return scan_text(s);
    if (sign == '-' || (sign >= '0' && sign <= '9'))
        return scan_number(s);
    return scan_word(s);
}

static bool scan_file(scan *s)
{
    if (strncmp(s->text, "\xEF\xBB\xBF", 3) == 0)
        memset(s->text, ' ', 3); /* a byte order mark, which RFC 8259 lets a reader ignore */
    skip_blanks(s);
    if (s->at >= s->length)
        return slip(s, s->at, "an empty file", "a JSON object { ... } is needed");
    if (!scan_value(s, s->at))
        return false;
    skip_blanks(s);
    return s->at >= s->length ||
           slip(s, s->at, found_at(s, s->at), "nothing may follow the file's one value");
}

ks_status ks_json_scan(const char *name, char *text, size_t length, size_t longest, ks_arena *arena,
                       ks_json_place **places, int *n_places, ks_error *err)
{
    scan s = {.name = name,
              .text = text,
              .length = length,
              .longest = longest,
              .line = 1,
              .column = 1,
              .arena = arena,
              .err = err};
    if (!scan_file(&s))
        return KS_BAD_INPUT;
    *places = s.places;
    *n_places = s.n;
    return KS_OK;
}
