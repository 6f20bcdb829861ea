/* embed.c: a program of the build: writes a file's bytes as a C array, so that the library carries
 * its fonts with it. Plain C arrays, as `ld -b binary` knows only some linkers. It says nothing:
 * the build shows the command that failed. */
#include <stdio.h>

static int write_it(FILE *in, FILE *out, const char *name)
{
    fprintf(out, "#include \"draw/scene/embedded.h\"\nconst unsigned char %s[] = {", name);
    size_t count = 0;
    for (int c; (c = getc(in)) != EOF; count++)
        fprintf(out, "%s%d,", count % 32 == 0 ? "\n" : "", c);
    fprintf(out, "\n};\nconst size_t %s_size = %zu;\n", name, count);
    return ferror(in) || ferror(out) || count == 0;
}

int main(int argc, char **argv)
{
    if (argc != 4)
        return 2;
    FILE *in = fopen(argv[1], "rb");
    FILE *out = in ? fopen(argv[3], "w") : NULL;
    if (!out)
        return 1;
    int bad = write_it(in, out, argv[2]);
    bad |= fclose(in) != 0;
    bad |= fclose(out) != 0;
    return bad;
}
