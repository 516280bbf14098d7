package scenarios
import ("testing";"fmt";"time";"strings")
func TestZZ(t *testing.T){
 N:=1<<20
 rep:=func(s string) string { return strings.Repeat(s, N/len(s)) }
 deep:=""; for i:=0;i<190;i++ { deep+=strings.Repeat(" ",i)+"a:\n" }
 long:=""; for i:=0;i<6000;i++ { long+=fmt.Sprintf("k%d: 1\n",i) }
 ml:="plant:\n"; for i:=0;i<3000;i++ { ml+=fmt.Sprintf("  k%d: {kind: site, gravity: 1 m/s2}\n",i) }
 for _,s:=range []string{rep("["),rep("{"),rep("- "),rep("a: 1\n"),rep("a"),rep("#\n"),rep("\n"),rep("? "),rep("{a: "),rep("'"),rep("\""),rep("''"),rep("a\n"),rep("a\n "),rep(" "),rep("\t"),rep("&a "),rep("*a "),rep("!a "),rep("!"),rep("|\n"),rep("- |\n"),rep("a: |\n"),rep(","),rep("]"),rep(":"),rep(": "),rep("--- "),rep("---\n"),rep("%"),rep("\r"),"a: \""+rep("\\n")+"\"","a: |\n"+rep(" \n"),"a: >\n"+rep(" x\n"), "a: >\n"+rep(" \n"), rep("é"), deep, long, ml, rep("a: {b: [c, d]}\n"), "a: \""+rep("\\u00e9")[:N-8], "about: "+rep("x\n  ")} {
   if len(s)>N {s=s[:N]}
   t0:=time.Now()
   _,err:=Parse("t",[]byte(s),open)
   d:=time.Since(t0)
   e:=fmt.Sprint(err); if len(e)>100{e=e[:100]}
   fmt.Printf("%10v %.12q %s\n", d.Round(time.Millisecond), s, e)
 }
}
