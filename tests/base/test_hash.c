#include "base/hash.h"
#include "check.h"

#include <stdlib.h>
#include <string.h>

/* The examples that NIST publishes with FIPS 180-4 ("Example Values", SHA-256: one block, two
 * blocks), its message of a million letters, and the empty message. */
static void the_published_examples_come_out(void **state)
{
    (void)state;
    static const struct {
        const char *text, *hex;
    } cases[] = {
        {"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"},
        {"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
         "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"},
        {"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"},
    };
    char hex[65];
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ks_sha256(cases[i].text, strlen(cases[i].text), hex);
        assert_string_equal(hex, cases[i].hex);
    }
    char *million = malloc(1000000);
    assert_non_null(million);
    memset(million, 'a', 1000000);
    ks_sha256(million, 1000000, hex);
    free(million);
    assert_string_equal(hex, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

/* Every length about the block's and the padding's edges, against coreutils' sha256sum. */
static void sha256sum_says_the_same(void **state)
{
    (void)state;
    char bytes[200];
    for (size_t length = 0; length < sizeof bytes; length += length < 50 || length > 130 ? 13 : 1) {
        memset(bytes, (int)('a' + length % 26), length);
        char command[400], other[65] = "", hex[65];
        snprintf(command, sizeof command, "printf '%%s' '%.*s' | sha256sum", (int)length, bytes);
        FILE *sum = popen(command, "r");
        assert_non_null(sum);
        assert_int_equal(fread(other, 1, 64, sum), 64);
        assert_int_equal(pclose(sum), 0);
        ks_sha256(bytes, length, hex);
        assert_string_equal(hex, other);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_published_examples_come_out),
        cmocka_unit_test(sha256sum_says_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
