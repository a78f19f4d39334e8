package cutting
import ("testing";"time";"fmt")
func TestZZ(t *testing.T){
 for _, v := range []struct{n int; ap,h float64}{{32,60,60},{4,12,45},{3,18,30}} { for _, m := range []float64{0,.25} {
 c:=Milling{Mill:Mill{DiameterMM:6,Flutes:v.n,HelixDeg:v.h,OffsetMM:.01},Mode:Slot,RadialDepthMM:1,AxialDepthMM:v.ap,FeedPerToothMM:.03,SpeedRPM:12000}
 s:=time.Now(); c.Forces(Law{Kt:700,Kr:200,M:m,Kte:5}); fmt.Println(v,m,time.Since(s)) }}
}
