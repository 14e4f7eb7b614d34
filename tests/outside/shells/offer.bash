# What bash would offer for a command line: offer.bash SCRIPT 'leadline rank --js'
source "$1"
read -ra COMP_WORDS <<< "${2//=/ = }"  # as bash cuts a line into words
[[ $2 == *' ' ]] && COMP_WORDS+=("")
COMP_CWORD=$((${#COMP_WORDS[@]} - 1)) COMP_LINE="$2" COMP_POINT=${#2}
_leadline
printf '%s\n' "${COMPREPLY[@]}"
