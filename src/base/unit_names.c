#include "base/unit_names.h"

#include "base/text.h"

#include <string.h>

static const ks_unit units[] = {
    {KS_LENGTH, "mm|millimetre|millimetres|millimeter|millimeters", {1, 1}, {0, 1}, false},
    {KS_LENGTH, "cm|centimetre|centimetres|centimeter|centimeters", {10, 1}, {0, 1}, false},
    {KS_LENGTH, "m|metre|metres|meter|meters", {1000, 1}, {0, 1}, false},
    {KS_LENGTH, "in|inch|inches|\"|''|\u2033|\u201D|\u201C", {127, 5}, {0, 1}, false},
    {KS_LENGTH, "ft|foot|feet|'|\u2032|\u2019", {1524, 5}, {0, 1}, true},
    {KS_MASS, "kg|kilo|kilos|kilogram|kilograms", {1, 1}, {0, 1}, true},
    {KS_MASS, "g|gram|grams|gramme|grammes", {1, 1000}, {0, 1}, false},
    {KS_MASS, "lb|lbs|pound|pounds", {45359237, 100000000}, {0, 1}, true},
    {KS_MASS, "oz|ounce|ounces", {45359237, 1600000000}, {0, 1}, false},
    {KS_TEMP, "C|\u00B0C|\u00BAC|\u2103|deg C|degrees C|celsius", {1, 1}, {0, 1}, false},
    {KS_TEMP, "F|\u00B0F|\u00BAF|\u2109|deg F|degrees F|fahrenheit", {5, 9}, {-160, 9}, false},
    {KS_TEMP, "K|kelvin", {1, 1}, {-27315, 100}, false},
    {KS_TIME, "h|hr|hrs|hour|hours", {3600, 1}, {0, 1}, true},
    {KS_TIME, "min|mins|minute|minutes|m", {60, 1}, {0, 1}, true},
    {KS_TIME, "s|sec|secs|second|seconds", {1, 1}, {0, 1}, false},
    {KS_TIME, "d|day|days", {86400, 1}, {0, 1}, true},
    {KS_POWER, "kW|kilowatt|kilowatts", {1, 1}, {0, 1}, false},
    {KS_POWER, "W|watt|watts", {1, 1000}, {0, 1}, false},
    {KS_POWER, "BTU/h|BTU/hr", {52752792631, 180000000000000}, {0, 1}, false},
};
enum { N_UNITS = sizeof units / sizeof *units };

const char *ks_blanks_skip(const char *at)
{
    for (;; at++)
        if (strncmp(at, "\u00A0", 2) == 0)
            at++;
        else if (*at != ' ' && *at != '\t')
            return at;
}

static bool is_letter(char sign)
{
    return (sign >= 'a' && sign <= 'z') || (sign >= 'A' && sign <= 'Z');
}

/* Bytes of `text` that are the `length` bytes of the name, letter case aside; 0 if it goes on as a
 * longer word. */
static size_t name_bytes(const char *text, const char *name, size_t length)
{
    const char letter_case = 0x20;
    char start[24];
    if ((*text | letter_case) != (*name | letter_case)) /* nearly always, and soon known */
        return 0;
    if (length >= sizeof start || strnlen(text, length) < length)
        return 0;
    memcpy(start, text, length);
    start[length] = '\0';
    char wanted[24];
    memcpy(wanted, name, length);
    wanted[length] = '\0';
    if (!ks_same_word(start, wanted))
        return 0;
    if (is_letter(name[length - 1]) && is_letter(text[length]))
        return 0;
    return length;
}

/* Bytes by which the text names the unit, by the longest of its names; 0 if it does not. */
static size_t unit_bytes(const char *text, const ks_unit *of)
{
    size_t longest = 0;
    for (const char *name = of->names; *name;) {
        const char *end = strchr(name, '|');
        size_t length = end ? (size_t)(end - name) : strlen(name);
        size_t bytes = name_bytes(text, name, length);
        longest = bytes > longest ? bytes : longest;
        name += length + (name[length] == '|');
    }
    return longest;
}

const ks_unit *ks_unit_take(ks_quantity quantity, const char **at)
{
    const char *from = ks_blanks_skip(*at);
    const ks_unit *found = NULL;
    size_t longest = 0;
    for (int i = 0; i < N_UNITS; i++) {
        size_t bytes = units[i].quantity == quantity ? unit_bytes(from, &units[i]) : 0;
        if (bytes > longest) {
            longest = bytes;
            found = &units[i];
        }
    }
    if (found) {
        *at = from + longest;
        *at += **at == '.' && is_letter((*at)[-1]);
    }
    return found;
}

const ks_unit *ks_unit_named(ks_quantity quantity, const char *name)
{
    const ks_unit *found = name ? ks_unit_take(quantity, &name) : NULL;
    return found && !*ks_blanks_skip(name) ? found : NULL;
}
