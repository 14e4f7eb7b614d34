# What zsh would offer for a command line: offer.zsh FOLDER 'leadline rank --js'. A zsh of its own at a pseudo-terminal, for completion
# exists only in an interactive shell; the list is taken where compadd gets it.
zmodload zsh/zpty
zpty -b inner "TERM=dumb zsh -f -i"
zpty -w inner "PROMPT= RPROMPT=; fpath=($1 \$fpath); autoload -Uz compinit; compinit -D -u
zstyle ':completion:*' menu no
compadd() { local -a offered; builtin compadd -A offered \"\$@\"; (( \${#offered} )) && print -rl -- \$offered >> $1/zsh.offered; return 1 }
bindkey '^I' expand-or-complete; print -r READY > $1/zsh.ready"
repeat 100; do [[ -e $1/zsh.ready ]] && break; sleep 0.05; done
: > $1/zsh.offered
zpty -n -w inner "$2"$'\t'
last= size=
repeat 60; do
  sleep 0.05
  size="$(wc -c < $1/zsh.offered)"
  [[ $size != 0 && $size == $last ]] && break
  last=$size
done
cat $1/zsh.offered
rm -f $1/zsh.ready $1/zsh.offered
zpty -d inner
