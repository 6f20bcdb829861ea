#include "studio/names.h"

#include "base/language.h"
#include "kilnstow/piece.h"

#include <string.h>

ks_word ks_word_at(const char *words, int value)
{
    ks_word word = {""};
    for (; value > 0 && *words; value--) {
        words += strcspn(words, "|");
        words += *words == '|';
    }
    size_t length = strcspn(words, "|");
    if (length < sizeof word.text)
        memcpy(word.text, words, length);
    return word;
}

int ks_word_place(const char *words, const char *word)
{
    size_t wanted = strlen(word);
    for (int place = 0;; place++) {
        size_t length = strcspn(words, "|");
        if (length == wanted && memcmp(words, word, length) == 0)
            return place;
        if (!words[length])
            return -1;
        words += length + 1;
    }
}

static const char *const part_kinds[] = {KS_WORDS("foot"), KS_WORDS("body"),  KS_WORDS("slab"),
                                         KS_WORDS("grog"), KS_WORDS("stilt"), KS_WORDS("cookie"),
                                         KS_WORDS("prop")};
static const char *const stages[] = {KS_WORDS("leather-hard"), KS_WORDS("dry"), KS_WORDS("bisque"),
                                     KS_WORDS("glazed"), KS_WORDS("fired")};
static const char *const poses[] = {KS_WORDS("upright"), KS_WORDS("inverted"), KS_WORDS("on edge"),
                                    KS_WORDS("on its side")};
static const char *const ways[] = {"", "nest", "rim", "pile", "edge", "lid"};
static const char *const roles[] = {KS_WORDS("ware"), KS_WORDS("cones"), KS_WORDS("test"),
                                    KS_WORDS("prop")};

const char *ks_part_kind_name(ks_part_kind kind)
{
    return part_kinds[kind];
}

const char *ks_stage_name(ks_stage stage)
{
    return stages[stage];
}

const char *ks_pose_name(ks_pose pose)
{
    return poses[pose];
}

const char *ks_way_name(ks_way way)
{
    return ways[way];
}

const char *ks_role_name(ks_role role)
{
    return roles[role];
}
