#!/bin/sh
# Installs the system packages that building ("build") and testing ("test")
# need. On Debian and its relatives apt does it, as root or through sudo; on
# other systems the exact list is printed and the caller goes on, since the
# packages may be there under another package manager's care.
set -eu

want=" $* "
has() { case "$want" in *" $1 "*) return 0 ;; *) return 1 ;; esac; }

debian_build="gcc g++ pkg-config libgl1-mesa-dev xorg-dev libxkbcommon-dev libasound2-dev"
debian_test="xvfb xdotool x11-utils imagemagick libgl1-mesa-dri pulseaudio pulseaudio-utils libasound2-plugins libxml2-utils"
fedora_build="gcc gcc-c++ pkgconf-pkg-config mesa-libGL-devel libX11-devel libXcursor-devel libXrandr-devel libXinerama-devel libXi-devel libXxf86vm-devel libxkbcommon-devel alsa-lib-devel"
fedora_test="xorg-x11-server-Xvfb xdotool xdpyinfo ImageMagick mesa-dri-drivers pulseaudio pulseaudio-utils alsa-plugins-pulseaudio libxml2"
arch_build="gcc pkgconf libgl libx11 libxcursor libxrandr libxinerama libxi libxxf86vm libxkbcommon alsa-lib"
arch_test="xorg-server-xvfb xdotool xorg-xdpyinfo imagemagick mesa pulseaudio alsa-plugins libxml2"
suse_build="gcc gcc-c++ pkgconf Mesa-libGL-devel libX11-devel libXcursor-devel libXrandr-devel libXinerama-devel libXi-devel libXxf86vm-devel libxkbcommon-devel alsa-devel"
suse_test="xorg-x11-server-Xvfb xdotool xdpyinfo ImageMagick Mesa-dri pulseaudio pulseaudio-utils alsa-plugins-pulse libxml2-tools"

list() { # the packages asked for, of the named family
  out=""
  if has build; then eval "out=\"\$$1_build\""; fi
  if has test; then eval "out=\"\$out \$$1_test\""; fi
  echo "$out"
}

advise() { echo "organbook: this system's packages are yours to install, if any is missing:" >&2; echo "  $*" >&2; }

if command -v apt-get >/dev/null 2>&1 && command -v dpkg-query >/dev/null 2>&1; then
  missing=""
  for p in $(list debian); do
    # A virtual or renamed package (libasound2-dev on some releases) counts as
    # installed when something that provides it is.
    state=$(dpkg-query -W -f '${db:Status-Status}\n' "$p" 2>/dev/null | head -n 1 || true)
    [ "$state" = installed ] || missing="$missing $p"
  done
  [ -n "$missing" ] || exit 0
  if [ "$(id -u)" = 0 ]; then sudo=""
  elif command -v sudo >/dev/null 2>&1; then sudo="sudo"
  else
    echo "organbook: packages are missing; run as root: apt-get install -y$missing" >&2
    exit 1
  fi
  echo "organbook: installing$missing"
  $sudo apt-get update -qq
  $sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null
elif command -v dnf >/dev/null 2>&1; then advise "sudo dnf install $(list fedora)"
elif command -v pacman >/dev/null 2>&1; then advise "sudo pacman -S --needed $(list arch)"
elif command -v zypper >/dev/null 2>&1; then advise "sudo zypper install $(list suse)"
elif [ "$(uname -s)" = Darwin ]; then
  if has build; then xcode-select -p >/dev/null 2>&1 || advise "xcode-select --install"; fi
  if has test; then echo "organbook: the window and sound tests are skipped on this system" >&2; fi
else
  advise "a C compiler, pkg-config and the development files of OpenGL, X11, Xcursor, Xrandr, Xinerama, Xi, Xxf86vm, xkbcommon and ALSA"
fi
