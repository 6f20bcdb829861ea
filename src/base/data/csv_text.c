#include "base/data/csv_text.h"

#include "base/text.h"

#include <string.h>

/* The code page's letters from 0x80 to 0x9F; 0 = it has none there. Above, it is Latin-1. */
static const unsigned short page_1252[32] = {
    0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0,      0x017D, 0,      0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178};

static int line_of(const char *text, size_t length)
{
    int line = 1;
    for (size_t i = 0; i < length; i++)
        line += text[i] == '\n' || (text[i] == '\r' && (i + 1 == length || text[i + 1] != '\n'));
    return line;
}

static void add_code(ks_text *to, uint32_t code)
{
    char bytes[4];
    ks_text_add_n(to, bytes, (size_t)ks_utf8_put(code, bytes));
}

static uint32_t unit_at(const unsigned char *pair, bool big)
{
    return big ? (uint32_t)pair[0] << 8 | pair[1] : (uint32_t)pair[1] << 8 | pair[0];
}

static ks_status from_utf16(const char *name, const unsigned char *bytes, size_t length, bool big,
                            ks_text *to, ks_error *err)
{
    for (size_t at = 0; at < length; at += 2) {
        bool whole = at + 1 < length;
        uint32_t code = whole ? unit_at(bytes + at, big) : 0;
        if (code >= 0xD800 && code < 0xDC00 && at + 3 < length) {
            uint32_t low = unit_at(bytes + at + 2, big);
            bool paired = low >= 0xDC00 && low < 0xE000;
            code = paired ? 0x10000 + ((code - 0xD800) << 10) + (low - 0xDC00) : 0xD800;
            at += 2;
        }
        if (code == 0 || (code >= 0xD800 && code < 0xE000))
            return ks_fail(err, KS_BAD_INPUT, "%s:%d: found broken UTF-16; save the table as UTF-8",
                           name, line_of(ks_text_end(to), to->length));
        add_code(to, code);
    }
    return KS_OK;
}

static ks_status from_1252(const char *name, const char *bytes, size_t length, ks_text *to,
                           ks_error *err)
{
    for (size_t i = 0; i < length; i++) {
        unsigned char byte = (unsigned char)bytes[i];
        uint32_t code = byte >= 0x80 && byte < 0xA0 ? page_1252[byte - 0x80] : byte;
        if (code == 0)
            return ks_fail(err, KS_BAD_INPUT,
                           "%s:%d: found the byte 0x%02X, which is no letter; save the table as "
                           "UTF-8",
                           name, line_of(bytes, i), (unsigned)byte);
        add_code(to, code);
    }
    return KS_OK;
}

ks_status ks_csv_text(const char *name, const char *bytes, size_t length, ks_arena *arena,
                      const char **text, const char **warning, ks_error *err)
{
    ks_text to = {.arena = arena};
    bool little = length >= 2 && memcmp(bytes, "\xFF\xFE", 2) == 0;
    bool big = length >= 2 && memcmp(bytes, "\xFE\xFF", 2) == 0;
    size_t mark = little || big ? 2 : length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    bytes += mark;
    length -= mark;
    ks_status status = KS_OK;
    if (little || big)
        status = from_utf16(name, (const unsigned char *)bytes, length, big, &to, err);
    else if (ks_utf8_valid(bytes, length) == length && (length == 0 || !memchr(bytes, 0, length)))
        ks_text_add_n(&to, bytes, length);
    else {
        status = from_1252(name, bytes, length, &to, err);
        *warning =
            ks_arena_print(arena, "%s is not UTF-8; its letters were taken as Windows-1252", name);
    }
    *text = ks_text_end(&to);
    return status;
}
