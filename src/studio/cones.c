#include "kilnstow/order.h"

#include <string.h>

/* From coldest to hottest, as the published charts list them; the half steps are sold too. */

static const char *const row[KS_CONES_KNOWN] = {
    "022", "021", "020", "019", "018",  "017", "016", "015", "014", "013", "012", "011", "010",
    "09",  "08",  "07",  "06",  "05.5", "05",  "04",  "03",  "02",  "01",  "1",   "2",   "3",
    "4",   "5",   "5.5", "6",   "7",    "8",   "9",   "10",  "11",  "12",  "13",  "14"};

static const struct {
    const char *also, *cone;
} spellings[] = {{"5 1/2", "5.5"},   {"5-1/2", "5.5"},   {"5,5", "5.5"},
                 {"05 1/2", "05.5"}, {"05-1/2", "05.5"}, {"05,5", "05.5"}};

static const char *usual_spelling(const char *cone)
{
    for (size_t i = 0; i < sizeof spellings / sizeof spellings[0]; i++)
        if (strcmp(cone, spellings[i].also) == 0)
            return spellings[i].cone;
    return cone;
}

int ks_cone_rank(const char *cone)
{
    if (!cone)
        return -1;
    cone += strspn(cone, " ");
    if (strncmp(cone, "cone ", 5) == 0)
        cone += 5;
    cone = usual_spelling(cone);
    for (size_t i = 0; i < KS_CONES_KNOWN; i++)
        if (strcmp(cone, row[i]) == 0)
            return (int)i;
    return -1;
}

const char *ks_cone_name(int rank)
{
    return rank >= 0 && rank < KS_CONES_KNOWN ? row[rank] : NULL;
}
