#include "app/measured/measured_columns.h"

#include "base/words.h"

#include <ctype.h>
#include <string.h>

/* The words of headings, English first, then what recorders sold elsewhere write. */
static const char
    times[] =
        "time|elapsed|clock|timestamp|datetime|hour|hours|hr|hrs|hh|h|minute|minutes|min|mins|"
        "second|seconds|sec|secs|s|ms|zeit|uhrzeit|heure|hora|tijd|tid|ora",
    dates[] = "date|datum|fecha|dato|day",
    sure_temps[] = "temp|temps|temperature|temperatures|temperatur|temperatuur|temperatura|"
                   "thermocouple|thermocouples|tc|pv|celsius|fahrenheit|degc|degf",
    likely_temps[] = "zone|chamber|kiln|probe|sensor|actual|measured|ofen|four|horno|c|f",
    sets[] = "set|setpoint|sp|sv|target|programme|program|wanted|asked|soll|sollwert",
    others[] = "power|output|kw|kwh|wh|amps|volts|percent|duty|relay|humidity|rh|pressure|segment|"
               "seg|step|status|state|note|notes|event|ambient|room|board|cold|junction|cj|outdoor|"
               "casing|rate|ramp|cost|gas",
    at_last_others[] = "record|row|no|nr|index|sample|scan|id|a|v|w",
    hour_words[] = "hour|hours|hr|hrs|h|std|stunden", minute_words[] = "minute|minutes|min|mins",
    second_words[] = "second|seconds|sec|secs|s", day_words[] = "days|d",
    celsius_words[] = "c|celsius|degc", fahrenheit_words[] = "f|fahrenheit|degf",
    kelvin_words[] = "k|kelvin", elapsed_words[] = "elapsed|runtime|since";

enum { WORDS_MOST = 24, WORD_ROOM = 32 };

typedef struct {
    int n;
    char at[WORDS_MOST][WORD_ROOM];
} word_list;

/* Words of letters and figures; a capital behind a small letter begins one, and the figures at the
 * end of a word ("Temp2") are its number. A lone t with a number is a temperature. */
static word_list words_of(const char *text)
{
    word_list words = {0};
    while (*text && words.n < WORDS_MOST) {
        char *word = words.at[words.n];
        size_t n = 0;
        for (; isalnum((unsigned char)*text) && n + 1 < WORD_ROOM; text++) {
            if (n > 0 && isupper((unsigned char)*text) && islower((unsigned char)text[-1]))
                break;
            word[n++] = (char)tolower((unsigned char)*text);
        }
        size_t whole = n;
        while (n > 0 && isdigit((unsigned char)word[n - 1]))
            n--;
        word[n] = '\0';
        if (n == 1 && whole > 1 && *word == 't')
            strcpy(word, "temp");
        words.n += n > 0;
        text += whole == 0;
    }
    return words;
}

static bool has_word(const word_list *words, const char *list)
{
    for (int i = 0; i < words->n; i++)
        if (ks_word_among(words->at[i], list))
            return true;
    return false;
}

static ks_recorded_role role_of(const word_list *words)
{
    const struct {
        const char *list;
        ks_recorded_role role;
    } by_weight[] = {{others, KS_RECORDED_OTHER},        {sets, KS_RECORDED_SET},
                     {sure_temps, KS_RECORDED_TEMP},     {times, KS_RECORDED_TIME},
                     {dates, KS_RECORDED_DATE},          {likely_temps, KS_RECORDED_TEMP},
                     {at_last_others, KS_RECORDED_OTHER}};
    for (size_t i = 0; i < sizeof by_weight / sizeof *by_weight; i++)
        if (has_word(words, by_weight[i].list))
            return by_weight[i].role;
    return KS_RECORDED_UNKNOWN;
}

static double unit_s_of(const word_list *words)
{
    return has_word(words, hour_words)     ? 3600
           : has_word(words, minute_words) ? 60
           : has_word(words, second_words) ? 1
           : has_word(words, "ms")         ? 1e-3
           : has_word(words, day_words)    ? 86400
                                           : 0;
}

ks_recorded_heading ks_recorded_heading_read(const char *text)
{
    word_list words = words_of(text);
    ks_recorded_heading heading = {.role = role_of(&words)};
    if (heading.role == KS_RECORDED_TIME) {
        heading.minutes_seconds =
            has_word(&words, "mm") && has_word(&words, "ss") && !has_word(&words, "hh|h");
        heading.unit_s = unit_s_of(&words);
        heading.elapsed = heading.unit_s > 0 || has_word(&words, elapsed_words);
    }
    if (heading.role == KS_RECORDED_TEMP)
        heading.degrees = has_word(&words, fahrenheit_words) ? 'F'
                          : has_word(&words, celsius_words)  ? 'C'
                          : has_word(&words, kelvin_words)   ? 'K'
                                                             : '\0';
    return heading;
}
