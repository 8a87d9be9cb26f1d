# SPDX-License-Identifier: GPL-3.0-or-later
# Turns a file into C: cmake -DFROM=FILE -DTO=FILE.c -DNAME=SYMBOL -P embed.cmake
# gives `const char SYMBOL[]`, the bytes of the file and a terminating zero.
file(READ "${FROM}" bytes HEX)
string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${bytes}")
string(REGEX REPLACE "(0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,0x..,)" "\\1\n" bytes
                     "${bytes}")
file(WRITE "${TO}" "extern const char ${NAME}[];\nconst char ${NAME}[] = {\n${bytes}0};\n")
