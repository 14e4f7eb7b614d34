#!/usr/bin/env bash
# Installs by CMake into a folder, makes the Debian package twice, looks into it, and installs, runs and removes it for real, in a root of its own
# that shares the machine's libraries: nothing of the machine is changed. Without root the last part is left out, and says so.
# Usage: package.sh BUILD-FOLDER FOLDER
set -euo pipefail
build="$1" folder="$2"
rm -rf "$folder"
mkdir -p "$folder"
export SOURCE_DATE_EPOCH=1790000000 LC_ALL=C
unset COLUMNS

fail() { echo "$*"; exit 1; }

# CMake alone.
cmake --install "$build" --prefix "$folder/prefix" > "$folder/install.log"
for file in bin/leadline share/man/man1/leadline.1.gz share/bash-completion/completions/leadline share/zsh/site-functions/_leadline \
            share/fish/vendor_completions.d/leadline.fish share/doc/leadline/copyright share/doc/leadline/README.md share/doc/leadline/exit-codes.md \
            share/doc/leadline/schema/rank-2.json; do
  [ -s "$folder/prefix/$file" ] || fail "cmake --install brought no $file"
done
"$folder/prefix/bin/leadline" --version > "$folder/version.txt"

# The package, twice: the same bytes.
for time in first second; do
  (cd "$build" && cpack -G DEB -B "$folder/$time") > "$folder/$time.log" 2>&1 || { cat "$folder/$time.log"; fail "cpack failed"; }
done
package="$(echo "$folder"/first/*.deb)"
cmp "$package" "$folder/second/$(basename "$package")" || fail "two packages of one source differ"
dpkg-deb -f "$package" Depends | grep -q 'libstemmer0d' || fail "shlibdeps did not name the libraries"
dpkg-deb -c "$package" > "$folder/contents.txt"
grep -q ' ./usr/share/man/man1/leadline.1.gz$' "$folder/contents.txt" || fail "the package brings no manual page"
! awk '{ print $2 }' "$folder/contents.txt" | grep -qv '^root/root$' || fail "a file of the package belongs to somebody else than root"
lintian --allow-root --fail-on error,warning "$package" > "$folder/lintian.txt" 2>&1 || { cat "$folder/lintian.txt"; fail "lintian finds fault with the package"; }

if [ "$(id -u)" -ne 0 ] || ! unshare --mount true 2> /dev/null; then
  echo "package made twice alike, clean in lintian; not installed: that needs root and mount namespaces"
  exit 0
fi

# A root with a dpkg of its own: the machine's libraries and list of packages, seen through overlays that are thrown away.
export package folder
unshare --mount bash -euo pipefail -c '
  mount -t tmpfs tmpfs "$folder"/first  # the upper layers: an overlay cannot lie on an overlay
  root="$folder"/first/root
  mkdir -p "$root" "$folder"/first/{upper,work}/{usr,var,etc}
  for part in usr var etc; do
    mkdir -p "$root/$part"
    mount -t overlay overlay -o "lowerdir=/$part,upperdir=$folder/first/upper/$part,workdir=$folder/first/work/$part" "$root/$part"
  done
  for link in bin sbin lib lib32 lib64; do [ ! -e "/$link" ] || ln -s "usr/$link" "$root/$link"; done
  mkdir -p "$root"/{tmp,dev,proc}
  mount --bind /dev "$root/dev"
  cp "$folder/second/"*.deb "$root/tmp/leadline.deb"
  inside() { chroot "$root" env DEBIAN_FRONTEND=noninteractive PATH=/usr/bin:/usr/sbin:/bin:/sbin "$@"; }
  inside dpkg -i /tmp/leadline.deb
  [ "$(inside dpkg-query -W -f "\${db:Status-Status}" leadline)" = installed ]
  inside leadline --version | cmp - "$folder/version.txt"
  inside leadline find only clicks > /dev/null
  # A machine may be told to unpack no manual pages.
  if inside test -e /usr/share/man/man1/leadline.1.gz; then inside env MANPAGER=cat man leadline | grep -q "User commands"; fi
  inside bash -c "source /usr/share/bash-completion/completions/leadline && complete -p leadline" > /dev/null
  inside dpkg -r leadline
  inside dpkg -P leadline
  left="$(find "$root" -xdev -name "*leadline*" ! -name leadline.deb 2> /dev/null; for part in usr var etc; do find "$folder/first/upper/$part" -name "*leadline*" ! -type c ! -path "*/cache/man/*"; done)"  # what man keeps of pages it has shown is its own
  [ -z "$left" ] || { echo "left behind: $left"; exit 1; }
' > "$folder/dpkg.log" 2>&1 || { cat "$folder/dpkg.log"; fail "the package does not install, run and remove cleanly"; }
echo "package made twice alike, clean in lintian; installed, run and removed"
